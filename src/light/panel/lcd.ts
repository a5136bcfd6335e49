import { LatelightError } from '../../errors/latelight-error.ts';
import { KeptCodes } from '../../picture/kept-codes.ts';
import type { LineRange } from '../../picture/picture.ts';
import type { ParameterValues } from '../../references/sourced.ts';
import {
  msToTicks,
  PICTURE_HEIGHT,
  PICTURE_WIDTH,
  ticksPerFrame,
  ticksPerLine,
  ticksToMs,
} from '../../units/timing.ts';
import { type Decays, decaysOf, flushed, type LightModes } from '../light-modes.ts';
import type { SpotWeights } from '../optics/optics.ts';
import { checkParameters } from '../parameters.ts';
import { restoreArray, restoreNumber, type SavedState } from '../saved-state.ts';
import type { Presentation } from '../signal/signal-stage.ts';
import { sharedLight } from '../weighted-light.ts';
import { Backlight } from './backlight.ts';
import { LcdCells } from './lcd-cells.ts';
import { LCD_SPEC } from './lcd-spec.ts';
import { type Panel, type PanelContext, type PanelModel, presentedCodes } from './panel.ts';

/** ln 9: an exponential needs this many time constants from 10 % to 90 %. Derived; ISO 9241-305 defines the levels. */
const TEN_TO_NINETY_TAUS = 2.1972245773362196;

const timeConstantS = (tenToNinetyMs: number): number => tenToNinetyMs / 1000 / TEN_TO_NINETY_TAUS;

/**
 * An LCD: panel row r shows scanline floor(r x 240 / rows) and is refreshed at `tTop + round(r * scanTicks / rows)`, one
 * input line later if the picture is not stored (a line buffer). How a row then changes: see `LcdCells`.
 *
 * Luminance of a code = black + (white - black) x its linear light, times 1 or 0 as the backlight is on or off: with a
 * switched backlight the mean is that luminance x duty. The cells go on in the dark. Off the screen there is no light.
 */
class Lcd implements Panel {
  readonly tauS: Float64Array;
  readonly sees: LineRange;
  readonly #context: PanelContext;
  readonly #rows: number;
  readonly #scanTicks: number;
  readonly #bufferTicks: number;
  readonly #spot: SpotWeights;
  readonly #cells: LcdCells;
  /** By row of the spot: ticks from the top of a presentation to its refresh; the line that it shows. */
  readonly #rowTicks: Float64Array;
  readonly #rowLine: Uint16Array;
  readonly #backlight: Backlight;
  /** While the backlight is off: the modes that the light would have, at `#darkTick`. */
  readonly #dark = new Float64Array(2);
  readonly #darkDecays: Decays;
  #darkTick: number;
  /** What `nextChange` has answered last is an edge of the backlight, not a row. */
  #isEdgeNext = false;
  /** The codes of the picture that all rows show, if they show one and the same. Known from the changes, never saved. */
  readonly #shown: KeptCodes;
  #showsOne = false;
  /** The next row to look at: presentation and row of the spot. */
  #presentation: number;
  #row = 0;

  constructor(values: ParameterValues, scanTicks: number, context: PanelContext) {
    const { timing, chain, optics, aim, spectralWeights } = context;
    this.#context = context;
    this.#presentation = context.firstPresentation;
    this.#darkTick = context.startTick;
    this.#rows = values['rows']!;
    this.#scanTicks = scanTicks;
    this.#bufferTicks = chain.isStored ? 0 : ticksPerLine(timing);
    this.tauS = Float64Array.of(values['riseMs']!, values['fallMs']!).map(timeConstantS);
    const [black, white] = [values['blackCdM2']!, values['whiteCdM2']!];
    const linear = sharedLight(timing.swapsRedGreenEmphasis, spectralWeights);
    this.#spot = optics.spot(aim, this.#rows);
    this.#cells = new LcdCells(
      this.#spot,
      linear.map((light) => black + (white - black) * light),
      this.tauS,
      timing,
    );
    this.#darkDecays = decaysOf(this.tauS, timing);
    this.#backlight = new Backlight(
      { frequencyHz: values['pwmHz']!, duty01: values['pwmDuty01']!, phase01: values['pwmPhase01']! },
      timing,
      context.startTick,
    );
    const { firstRow, rowCount } = this.#spot;
    this.#rowTicks = Float64Array.from({ length: rowCount }, (_, row) => this.#ticksFromTop(firstRow + row));
    this.#rowLine = Uint16Array.from({ length: rowCount }, (_, row) => lineOf(firstRow + row, this.#rows));
    this.sees = linesUnder(this.#spot, this.#rows);
    const { firstLine, lastLine } = this.sees;
    this.#shown = new KeptCodes(firstLine, lastLine - firstLine + 1, this.#spot.firstDot, this.#spot.dotCount);
  }

  get constantCdM2(): number {
    return this.#backlight.isOn ? this.#cells.targetCdM2 : 0;
  }

  get isPureShift(): boolean {
    return this.#backlight.isSteady;
  }

  #refreshTick(presentation: Presentation, panelRow: number): number {
    return presentation.tTop + this.#ticksFromTop(panelRow);
  }

  #ticksFromTop(panelRow: number): number {
    return this.#bufferTicks + Math.round((panelRow * this.#scanTicks) / this.#rows);
  }

  nextChange(limit: number): number {
    if (this.sees.firstLine > this.sees.lastLine) return Number.POSITIVE_INFINITY;
    const { edgeTick } = this.#backlight;
    const refreshTick = this.#nextRefresh(Math.min(limit, edgeTick - 1));
    this.#isEdgeNext = refreshTick === Number.POSITIVE_INFINITY && edgeTick <= limit;
    return this.#isEdgeNext ? edgeTick : refreshTick;
  }

  #nextRefresh(limit: number): number {
    for (;;) {
      const presentation = this.#context.chain.at(this.#presentation);
      if (presentation === undefined) return Number.POSITIVE_INFINITY;
      const tick = this.#nextOf(presentation, limit);
      if (tick > limit) return Number.POSITIVE_INFINITY;
      if (tick >= 0) return tick;
      this.#presentation++;
      this.#row = 0;
    }
  }

  /** First row with new codes from here on: its tick, Infinity if that is after `limit`, -1 if the picture has no more. */
  #nextOf(presentation: Presentation, limit: number): number {
    const { rowCount, firstDot } = this.#spot;
    if (this.#row === 0 && this.#isShownAlready(presentation, limit)) return -1;
    let codes: Uint16Array | undefined;
    let checked = -1;
    for (; this.#row < rowCount; this.#row++) {
      const row = this.#row;
      const tick = presentation.tTop + this.#rowTicks[row]!;
      if (tick > limit) return Number.POSITIVE_INFINITY;
      const line = this.#rowLine[row]!;
      if (line < presentation.yFirst || line > presentation.yLast) continue;
      // The row above shows this line without a change, and this row shows the same.
      if (checked === line && this.#cells.isLikeAbove(row)) continue;
      codes ??= presentedCodes(this.#context.history, presentation, this.sees);
      if (this.#cells.isNew(row, codes, line * PICTURE_WIDTH + firstDot)) return tick;
      checked = line;
    }
    if (!this.#showsOne && this.#isWhole(presentation)) this.#keepShown(presentation);
    return -1;
  }

  /** The presentation has all the lines that are seen. */
  #isWhole({ yFirst, yLast }: Presentation): boolean {
    return this.sees.firstLine >= yFirst && this.sees.lastLine <= yLast;
  }

  /** Every row has come by `limit` and brings nothing new. */
  #isShownAlready(presentation: Presentation, limit: number): boolean {
    const { rowCount } = this.#spot;
    if (!this.#showsOne || presentation.tTop + this.#rowTicks[rowCount - 1]! > limit) return false;
    if (!this.#isWhole(presentation)) return false;
    const { firstLine, lastLine } = this.sees;
    const codes = presentedCodes(this.#context.history, presentation, this.sees);
    this.#showsOne = this.#shown.isAsKept(codes, lastLine - firstLine + 1);
    return this.#showsOne;
  }

  #keepShown(presentation: Presentation): void {
    const { firstLine, lastLine } = this.sees;
    this.#shown.keep(presentedCodes(this.#context.history, presentation, this.sees), 0, lastLine - firstLine + 1);
    this.#showsOne = true;
  }

  applyChange({ amplitudeCdM2 }: LightModes): void {
    if (this.#isEdgeNext) this.#switchBacklight(amplitudeCdM2);
    else this.#refreshRow(amplitudeCdM2);
  }

  #switchBacklight(amplitudeCdM2: Float64Array): void {
    const { isOn, edgeTick } = this.#backlight;
    if (isOn) {
      this.#dark.set(amplitudeCdM2);
      this.#darkTick = edgeTick;
      amplitudeCdM2.fill(0);
    } else {
      this.#carryDark(edgeTick);
      amplitudeCdM2.set(this.#dark);
    }
    this.#backlight.pass();
  }

  #carryDark(tick: number): void {
    const decay = this.#darkDecays.after(tick - this.#darkTick);
    for (let m = 0; m < decay.length; m++) this.#dark[m] = flushed(this.#dark[m]! * decay[m]!);
    this.#darkTick = tick;
  }

  #refreshRow(amplitudeCdM2: Float64Array): void {
    const presentation = this.#context.chain.at(this.#presentation)!;
    const panelRow = this.#spot.firstRow + this.#row;
    const tick = this.#refreshTick(presentation, panelRow);
    const codes = presentedCodes(this.#context.history, presentation, this.sees);
    const firstCode = lineOf(panelRow, this.#rows) * PICTURE_WIDTH + this.#spot.firstDot;
    this.#showsOne = false;
    if (!this.#backlight.isOn) this.#carryDark(tick);
    this.#cells.refresh(this.#row, tick, codes, firstCode, this.#backlight.isOn ? amplitudeCdM2 : this.#dark);
    this.#row++;
  }

  rowTick(presentation: Presentation, line: number): number {
    return this.#refreshTick(presentation, Math.ceil((line * this.#rows) / PICTURE_HEIGHT));
  }

  aimTick(presentation: Presentation): number {
    const row = Math.floor((this.#context.aim.y * this.#rows) / PICTURE_HEIGHT);
    return this.#refreshTick(presentation, Math.max(0, Math.min(this.#rows - 1, row)));
  }

  save(): SavedState {
    return {
      presentation: this.#presentation,
      row: this.#row,
      dark: this.#dark.slice(),
      darkTick: this.#darkTick,
      ...this.#backlight.save(),
      ...this.#cells.save(),
    };
  }

  load(state: SavedState): void {
    this.#presentation = restoreNumber(state, 'presentation');
    this.#row = restoreNumber(state, 'row');
    restoreArray(this.#dark, state, 'dark');
    this.#darkTick = restoreNumber(state, 'darkTick');
    this.#backlight.load(state);
    this.#cells.load(state);
    this.#showsOne = false;
  }
}

/** The scanline that a row of a panel with so many shows. */
const lineOf = (panelRow: number, rows: number): number => Math.floor((panelRow * PICTURE_HEIGHT) / rows);

function linesUnder({ firstRow, rowCount, dotCount }: SpotWeights, rows: number): LineRange {
  if (rowCount === 0 || dotCount === 0) return { firstLine: 0, lastLine: -1 };
  return { firstLine: lineOf(firstRow, rows), lastLine: lineOf(firstRow + rowCount - 1, rows) };
}

/** Error: LIGHT_PATH if a scan is longer than a frame, or faster than rows arrive that are not stored. */
function checkScan(scanTicks: number, { timing, chain }: PanelContext): void {
  const arrivalTicks = PICTURE_HEIGHT * ticksPerLine(timing);
  const least = chain.isStored ? 0 : arrivalTicks;
  const largest = ticksPerFrame(timing);
  if (scanTicks >= least && scanTicks <= largest) return;
  const ms = (ticks: number) => ticksToMs(timing, ticks).toFixed(3);
  throw new LatelightError('LIGHT_PATH', {
    what: 'the scan of the LCD',
    found: `${ms(scanTicks)} ms`,
    allowed:
      scanTicks < least
        ? `${ms(least)} ms or more, because rows arrive one by one in that time`
        : `${ms(largest)} ms, one frame, or less`,
    cure:
      scanTicks < least ? 'Add a frame buffer before the panel, or make the scan longer.' : 'Make the scan shorter.',
  });
}

/** An LCD with a backlight that is steady or switched. */
export const LCD: PanelModel = {
  spec: LCD_SPEC,
  sees: (values, optics, aim) => linesUnder(optics.spot(aim, values['rows']!), values['rows']!),
  slowestS: (values) => timeConstantS(Math.max(values['riseMs']!, values['fallMs']!)),
  create(values, context) {
    checkParameters(LCD_SPEC, values);
    if (values['blackCdM2']! >= values['whiteCdM2']!) {
      const allowed = `less than white, ${values['whiteCdM2']} cd/m2`;
      throw new LatelightError('PARAM_RANGE', { name: 'lcd.blackCdM2', found: values['blackCdM2']!, allowed });
    }
    const scanTicks = msToTicks(context.timing, values['scanMs']!);
    checkScan(scanTicks, context);
    return new Lcd(values, scanTicks, context);
  },
};
