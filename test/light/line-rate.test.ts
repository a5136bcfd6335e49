import { describe, expect, test } from 'vitest';
import type { LightPath, LightPathSettings } from '../../src/light/light-path.ts';
import { settingValues } from '../../src/light/parameters.ts';
import { LINE_RATE } from '../../src/light/sensor/line-rate.ts';
import { PictureHistory } from '../../src/picture/picture.ts';
import { LINE_RATE_60_HZ, SIGNAL_SHARES } from '../../src/references/light-sensor.ts';
import { harmonicContent, PHOSPHORS } from '../../src/references/phosphor.ts';
import { TIMINGS, ticksPerFrame, ticksPerLine } from '../../src/units/timing.ts';
import {
  BLACK,
  beginPicture,
  lamp,
  lcd,
  lineRate,
  makePath,
  type Painter,
  room,
  spot,
  TIMING_60,
  tube,
  whole,
} from './light-bench.ts';

const FRAME = ticksPerFrame(TIMING_60);
const LINE = ticksPerLine(TIMING_60);
const white = whole(() => true);
const RADIUS = 4;
const values = settingValues(lineRate());

interface Watched {
  readonly path: LightPath;
  /** Largest envelope and carrier seen, ten looks a line, cd/m2. */
  readonly envelope: number;
  readonly carrier: number;
}

/** Run as a console does, frame by frame. `looksAt` are the frames whose envelope is looked at. */
function watch(
  settings: Partial<LightPathSettings>,
  paint: Painter,
  frames: number,
  row = 120,
  looksAt: (n: number) => boolean = () => false,
): Watched {
  const history = new PictureHistory(12);
  const path = makePath(
    { stages: [], room: room(50), optics: spot(RADIUS), sensor: lineRate(), ...settings },
    history,
    { x: 128, y: row },
  );
  let [envelope, carrier] = [0, 0];
  for (let n = 0; n <= frames; n++) {
    const tick = beginPicture(history, paint, n, TIMING_60);
    if (n === 0) continue;
    if (looksAt(n)) {
      for (let look = tick - FRAME + 8; look < tick; look += 136) {
        path.bitAt(look);
        const reading = path.sensorAt(look);
        envelope = Math.max(envelope, reading.x);
        carrier = Math.max(carrier, reading.carrier!);
      }
    }
    path.bitAt(tick);
  }
  return { path, envelope, carrier };
}

const onTube = watch({ panel: tube() }, white, 6, 120, (n) => n > 3);
const FRAME_BUFFER = [{ kind: 'frame-buffer', frames: 1 }];

describe('line-rate sensor before an LCD with a steady backlight behind a frame buffer', () => {
  const scenes: readonly (readonly [string, Painter])[] = [
    ['white and black frames in turn', whole((n) => n % 2 === 0)],
    ['two white frames after two black ones', whole((n) => n % 4 < 2)],
    ['flashes of one frame', whole((n) => n % 8 === 3)],
    [
      'stripes that change places',
      (codes, n) => {
        for (let i = 0; i < codes.length; i++) codes[i] = ((i >> 11) + n) % 2 === 0 ? 0x20 : BLACK;
      },
    ],
  ];

  // 5 % of the tube's signal, and the sensor's own threshold which is lower still
  test.each([10, 120, 230])('10 s, row %i: it never fires, from 5 percent of the signal of the tube upwards', (row) => {
    for (const [name, paint] of scenes) {
      const sensor = lineRate({ thresholdCdM2: Math.min(0.05 * onTube.envelope, 18) });
      const settings = { stages: FRAME_BUFFER, panel: lcd(), sensor };
      expect(watch(settings, paint, 601, row).path.flips, name).toEqual([]);
    }
  });

  test('the band-pass leaves less than 0.4 percent of a step between black and white (measured in a numerical model)', () => {
    for (const riseMs of [1, 5, 20]) {
      const settings = {
        stages: FRAME_BUFFER,
        panel: lcd({ riseMs, fallMs: riseMs }),
        sensor: lineRate({ attackUs: 1 }),
      };
      const { carrier } = watch(
        settings,
        whole((n) => n % 2 === 0),
        6,
        120,
        (n) => n > 1,
      );
      expect(carrier / 350).toBeLessThan(0.004);
      expect(carrier).toBeGreaterThan(0);
    }
  });

  test('a flat panel must have its own rows: the fewer, the more it fakes a carrier', () => {
    const faked = [240, 480, 1080].map((rows) => {
      const panel = lcd({ rows, riseMs: 0.02, fallMs: 0.02 });
      return watch(
        { panel },
        whole((n) => n % 2 === 0),
        6,
        120,
        (n) => n > 1,
      ).envelope;
    });
    expect(faked[0]! / faked[1]!).toBeGreaterThan(3);
    expect(faked[1]!).toBeGreaterThan(faked[2]!);
  });
});

describe('line-rate sensor before a tube', () => {
  test.each([10, 120, 230])('it fires once a frame on a white field, row %i', (row) => {
    expect(watch({ panel: tube() }, white, 30, row).path.flips).toHaveLength(60);
  });

  test('the band-pass gives 4 to 20 times the mean light of 100 cd/m2 (measured in a numerical model)', () => {
    expect(onTube.carrier / 100).toBeGreaterThan(4);
    expect(onTube.carrier / 100).toBeLessThan(20);
  });

  test('it is lit between the moment that the beam comes to the aim and two milliseconds later', () => {
    const { path } = watch(
      { panel: tube() },
      whole((n) => n === 3),
      6,
    );
    const beam = path.rowTick(3, 120, 128);
    expect(path.flips).toHaveLength(2);
    const [on, off] = path.flips as [number, number];
    expect(on).toBeGreaterThan(beam - 2 * RADIUS * LINE);
    expect(on).toBeLessThan(beam);
    expect(off - beam).toBeGreaterThan(10 * LINE);
    expect(off - beam).toBeLessThan(32 * LINE);
  });

  test('shares of the signal by primary are those that its parameters say', () => {
    // each primary's peak carrier alone, relative to all; peaks of a transient, hence the tolerance
    const peaks = ([0, 1, 2] as const).map((primary) => {
      const shares = [0.207, 0.551, 0.242].map((share, p) => (p === primary ? share : 0));
      const sensor = lineRate({ weightRed: shares[0]!, weightGreen: shares[1]!, weightBlue: shares[2]! });
      // with one weight above 0 all the sensitivity goes to one primary: undo that
      const all = LINE_RATE.spectralWeights({ ...values, weightRed: 0.207, weightGreen: 0.551, weightBlue: 0.242 });
      return watch({ panel: tube(), sensor }, white, 5, 120, (n) => n > 3).envelope * all[primary];
    });
    const sum = peaks[0]! + peaks[1]! + peaks[2]!;
    for (const [p, share] of [0.207, 0.551, 0.242].entries())
      expect(Math.abs(peaks[p]! / sum - share)).toBeLessThan(0.02);
  });

  test('red alone, of the same luminance of field, gives it 4.5 to 5.6 times less than green and blue (derived)', () => {
    const envelope = (weights: Record<string, number>): number =>
      watch({ panel: tube(), sensor: lineRate(weights) }, white, 5, 120, (n) => n > 3).envelope;
    const [red, green, blue] = [
      envelope({ weightRed: 1, weightGreen: 0, weightBlue: 0 }),
      envelope({ weightRed: 0, weightGreen: 1, weightBlue: 0 }),
      envelope({ weightRed: 0, weightGreen: 0, weightBlue: 1 }),
    ];
    expect(green / red).toBeGreaterThan(3.8);
    expect(blue / red).toBeLessThan(6);
    expect(blue).toBeGreaterThan(green);
  });
});

describe('what jams the line-rate sensor', () => {
  const dimmed = (pwmHz: number) => lcd({ pwmHz, pwmDuty01: 0.5 });

  test.each([15_000, 15_746, 16_000, 17_000])(
    'a white LCD whose backlight is switched at %i Hz keeps it lit for as long as the field is white',
    (hz) => {
      const { path } = watch(
        { panel: dimmed(hz) },
        whole((n) => n > 2),
        20,
      );
      expect(path.flips).toHaveLength(1);
    },
  );

  test.each([0, 240, 60_000])('a backlight at %i Hz (0 = steady) does not keep it lit', (hz) => {
    const { path } = watch(
      { panel: dimmed(hz) },
      whole((n) => n > 2),
      20,
    );
    expect(path.bitAt(20 * FRAME - 100)).toBe(0);
    if (hz === 0) expect(path.flips).toEqual([]);
  });

  test.each([50, 60])('a lamp on %i Hz mains is no signal, even at 100 percent flicker and 5,000 lx', (mainsHz) => {
    const settings = { panel: lcd(), room: lamp({ illuminanceLux: 5000, percentFlicker: 100, mainsHz }) };
    expect(
      watch(
        settings,
        whole(() => false),
        60,
      ).path.flips,
    ).toEqual([]);
  });
});

describe('its constants', () => {
  test('its middle is the line rate of the 60 Hz timing; the broadcast rate is 0.0002 dB off at Q = 5', () => {
    const { masterNumerator, masterDenominator } = TIMINGS['60hz'];
    expect(masterNumerator / masterDenominator / LINE).toBeCloseTo(LINE_RATE_60_HZ.value, 3);
    const ratio = 15_734.266 / LINE_RATE_60_HZ.value;
    const lossDb = 10 * Math.log10(1 + (5 * (ratio - 1 / ratio)) ** 2);
    expect(lossDb).toBeLessThan(0.0003);
  });

  test('sensitivity to light = share of the signal / what a P22 tube keeps at the line rate', () => {
    const weights = LINE_RATE.spectralWeights(values);
    const kept = PHOSPHORS[0]!.primaries.map((terms) => harmonicContent(terms, LINE_RATE_60_HZ.value));
    const signal = weights.map((weight, p) => weight * kept[p]!);
    const sum = signal[0]! + signal[1]! + signal[2]!;
    for (const [p, { value }] of Object.values(SIGNAL_SHARES).entries())
      expect(signal[p]! / sum).toBeCloseTo(value, 12);
    expect(weights[0] + weights[1] + weights[2]).toBeCloseTo(1, 12);
  });
});
