import type { ModelSpec, Sourced } from '../../references/sourced.ts';

const sourced = (value: number, unit: string, kind: Sourced['kind'], source: string): Sourced => ({
  value,
  unit,
  source,
  kind,
});
const practice = (value: number, unit: string, source: string) => sourced(value, unit, 'common practice', source);

const ROWS = practice(1080, '', 'common practice: full HD panel');
const SCAN = sourced(16, 'ms', 'derived', 'derived: 1080 of 1125 lines of a 60 Hz frame, 1080/1125 x 16.67 ms');
const IPS = practice(5, 'ms', 'from memory: IPS cells 3 to 12 ms, typically 5');
const VA = practice(15, 'ms', 'from memory: VA cells, dark transitions 5 to 50 ms, typically 15');
const TV_WHITE = practice(350, 'cd/m2', 'from memory: LCD television 150 to 700 cd/m2, typically 350');
const TV_BLACK = practice(0.1, 'cd/m2', 'from memory: LCD television 0.02 to 0.2 cd/m2');
const MONITOR_WHITE = practice(250, 'cd/m2', 'common practice: monitor 100 to 500 cd/m2, typically 250');
const MONITOR_BLACK = practice(0.2, 'cd/m2', 'common practice: monitor 0.05 to 0.5 cd/m2');

const PHASE = sourced(0, '', 'assumed', 'assumed: switched on at power-on');
const STEADY = {
  pwmHz: sourced(0, 'Hz', 'published', "a review laboratory's page on flicker: nearly 90 % of monitors are free of it"),
  pwmDuty01: sourced(1, '', 'derived', 'derived: steady light is always on'),
  pwmPhase01: PHASE,
};
const dimmed = (hz: Sourced) => ({
  pwmHz: hz,
  pwmDuty01: practice(0.5, '', 'from memory: 0.1 to 1, about the share that the brightness is set to'),
  pwmPhase01: PHASE,
});

const FAST_TELEVISION = {
  rows: ROWS,
  scanMs: SCAN,
  riseMs: IPS,
  fallMs: IPS,
  whiteCdM2: TV_WHITE,
  blackCdM2: TV_BLACK,
};

/** What forms and schemas need to know of the LCD. */
export const LCD_SPEC: ModelSpec = {
  kind: 'lcd',
  title: 'LCD',
  what: 'Refreshes its rows from top to bottom; each dot then moves to its new light exponentially, before a backlight that is steady or switched.',
  parameters: [
    { name: 'rows', title: 'rows of the panel', unit: '', min: 240, max: 4320, isInteger: true, standard: ROWS },
    { name: 'scanMs', title: 'scan from top to bottom', unit: 'ms', min: 1, max: 20, standard: SCAN },
    { name: 'riseMs', title: 'rise, 10 to 90 %', unit: 'ms', min: 0.01, max: 200, standard: IPS },
    { name: 'fallMs', title: 'fall, 90 to 10 %', unit: 'ms', min: 0.01, max: 200, standard: IPS },
    { name: 'whiteCdM2', title: 'white', unit: 'cd/m2', min: 1, max: 2000, standard: TV_WHITE },
    { name: 'blackCdM2', title: 'black', unit: 'cd/m2', min: 0, max: 100, standard: TV_BLACK },
    {
      name: 'pwmHz',
      title: 'frequency at which the backlight is switched, 0 = steady',
      unit: 'Hz',
      min: 0,
      max: 100_000,
      standard: STEADY.pwmHz,
    },
    {
      name: 'pwmDuty01',
      title: 'share of the time that the backlight is on',
      unit: '',
      min: 0.01,
      max: 1,
      standard: STEADY.pwmDuty01,
    },
    {
      name: 'pwmPhase01',
      title: 'phase of the backlight at power-on, share of its period',
      unit: '',
      min: 0,
      max: 1,
      standard: STEADY.pwmPhase01,
    },
  ],
  presets: [
    {
      id: 'game-mode-lcd',
      title: 'LCD television with fast cells',
      values: { ...FAST_TELEVISION, ...STEADY },
    },
    {
      id: 'late-lcd',
      title: 'LCD television with slow cells',
      values: { ...FAST_TELEVISION, riseMs: VA, fallMs: VA, ...STEADY },
    },
    {
      id: 'monitor-lcd',
      title: 'monitor with TN cells',
      values: {
        rows: ROWS,
        scanMs: SCAN,
        riseMs: practice(4, 'ms', 'from memory: TN cells to white 3 to 5 ms'),
        fallMs: practice(1.5, 'ms', 'from memory: TN cells to black 1 to 2 ms'),
        whiteCdM2: MONITOR_WHITE,
        blackCdM2: MONITOR_BLACK,
        ...STEADY,
      },
    },
    {
      id: 'dimmed-lcd',
      title: 'LCD television with fast cells, backlight dimmed at 240 Hz',
      values: { ...FAST_TELEVISION, ...dimmed(practice(240, 'Hz', 'from memory: LED backlights 120 to 25,000 Hz')) },
    },
    {
      id: 'pwm-16k-lcd',
      title: 'LCD television with fast cells, backlight dimmed near the line rate',
      values: {
        ...FAST_TELEVISION,
        ...dimmed(sourced(16_000, 'Hz', 'assumed', 'assumed: within the 15 to 17 kHz that a line-rate sensor passes')),
      },
    },
  ],
};
