import { isDeepStrictEqual } from 'node:util';
import { FastConsole } from '../../src/console/fast/fast-console.ts';
import type { Surroundings } from '../../src/console/ports.ts';
import { LightPath } from '../../src/light/light-path.ts';
import { PictureHistory } from '../../src/picture/picture.ts';
import { PullInputs } from '../../src/shot/inputs.ts';
import { isLitAt } from '../../src/shot/light-bit.ts';
import type { PreparedScenario } from '../../src/shot/prepared-scenario.ts';
import { capacityFor, requestOf } from '../../src/shot/shot.ts';
import type { TraceEvent } from '../../src/trace/trace.ts';

/** Where the console gets the answers of the light from, in a run from power-on. */
interface Light {
  /** The bit at a tick. */
  bitAt(tick: number): 0 | 1;
  /** First tick at which it may differ. */
  constantUntil(tick: number, limit: number): number;
  /** Once a frame, so that no picture is forgotten. */
  endFrame(tick: number): void;
}

/** What the light path answered in a run, and when it looked at the picture in progress, in the order of the questions. */
interface Answers {
  flips: readonly number[];
  readonly constantUntil: number[];
  readonly looked: boolean[];
}

/**
 * Processor time, ms, of a run of the scenario's first shot on the fast console, whole picture, with its light path; and of
 * the very same run in which the light is replayed: bits from the flips of the first run, answers to how long they last in
 * the order in which they were given, and a look at the picture in progress wherever the path took one. So both carry out the
 * same instructions, leave out the same rounds of loops and draw the same lines at the same times, and the difference is
 * what the light path itself does. Making the console and the path is in neither of them, nor is watching and judging.
 */
export interface LightTimes {
  readonly withLight: number;
  readonly replayed: number;
}

/** A run that can be timed time and again, from power-on to a tick. */
export class LightRuns {
  readonly #prepared: PreparedScenario;
  readonly #endTick: number;
  readonly #answers: Answers;
  #isReplayFirst = false;

  constructor(prepared: PreparedScenario, endTick: number) {
    this.#prepared = prepared;
    this.#endTick = endTick;
    this.#answers = this.#record();
  }

  /** Both runs one after the other, by turns one and the other first. Throws if they were not the same. */
  times(work: (run: () => void) => number): LightTimes {
    const history = this.#newHistory();
    const light = this.#console(history, fromPath(this.#newPath(history)));
    const again = this.#newHistory();
    const replay = this.#console(again, replayed(again, this.#answers));
    const time = (console: FastConsole): number => work(() => console.runUntil(this.#endTick));
    this.#isReplayFirst = !this.#isReplayFirst;
    const first = time(this.#isReplayFirst ? replay : light);
    const second = time(this.#isReplayFirst ? light : replay);
    if (light.skippedCycles !== replay.skippedCycles || !isDeepStrictEqual(light.save(), replay.save()))
      throw new Error('the run with replayed light is another one');
    return this.#isReplayFirst ? { withLight: second, replayed: first } : { withLight: first, replayed: second };
  }

  #record(): Answers {
    const history = this.#newHistory();
    const path = this.#newPath(history);
    const answers: Answers = { flips: [], constantUntil: [], looked: [] };
    const console = this.#console(history, recorded(history, path, answers));
    console.runUntil(this.#endTick);
    answers.flips = path.flips.slice();
    return answers;
  }

  #newHistory(): PictureHistory {
    return new PictureHistory(capacityFor(this.#prepared));
  }

  #newPath(history: PictureHistory): LightPath {
    const { scenario, timing } = this.#prepared;
    return new LightPath({ settings: scenario.lightPath, timing, history, aim: scenario.shots[0]!.aim });
  }

  #console(history: PictureHistory, light: Light): FastConsole {
    const { scenario, image, timing, probes } = this.#prepared;
    const inputs = new PullInputs(scenario, scenario.shots[0]!, timing, 0);
    const surroundings: Surroundings = {
      readLight: (_, tick) => light.bitAt(tick),
      isTriggerClosed: (_, tick) => inputs.isTriggerClosed(tick),
      buttons: (port, tick) => inputs.buttons(port, tick),
      lightConstantUntil: (_, tick) => {
        const limit = inputs.constantUntil(tick, this.#endTick);
        return limit > tick ? light.constantUntil(tick, limit) : tick;
      },
    };
    const console: FastConsole = new FastConsole({
      timing,
      image,
      devices: scenario.ports,
      surroundings,
      history,
      trace: {
        put: (event: TraceEvent) => {
          if (event.kind === 'vblank') light.endFrame(event.tick);
        },
        putPortReads: () => {},
      },
      request: requestOf(probes),
      alignment: scenario.alignment,
      hooks: { targetsForNextPicture: () => probes.targets((address) => console.peek(address)) },
    });
    return console;
  }
}

const fromPath = (path: LightPath): Light => ({
  bitAt: (tick) => path.bitAt(tick),
  constantUntil: (tick, limit) => path.bitConstantUntil(tick, limit),
  endFrame: (tick) => {
    path.bitAt(tick);
  },
});

/** The path, with notes of its answers. */
function recorded(history: PictureHistory, path: LightPath, { constantUntil, looked }: Answers): Light {
  /** What a question answers, and whether it made the console draw. */
  const noting = <Answer>(ask: () => Answer): Answer => {
    const { drawer } = history;
    let hasLooked = false;
    history.drawer = {
      drawDue: () => {
        hasLooked = true;
        drawer?.drawDue();
      },
    };
    const answer = ask();
    history.drawer = drawer;
    looked.push(hasLooked);
    return answer;
  };
  return {
    bitAt: (tick) => noting(() => path.bitAt(tick)),
    constantUntil: (tick, limit) => {
      const until = noting(() => path.bitConstantUntil(tick, limit));
      constantUntil.push(until);
      return until;
    },
    endFrame: (tick) => {
      noting(() => path.bitAt(tick));
    },
  };
}

function replayed(history: PictureHistory, { flips, constantUntil, looked }: Answers): Light {
  let question = 0;
  let constant = 0;
  const look = (): void => {
    if (looked[question++]) history.drawer?.drawDue();
  };
  return {
    bitAt: (tick) => {
      look();
      return isLitAt(flips, tick) ? 1 : 0;
    },
    constantUntil: () => {
      look();
      return constantUntil[constant++]!;
    },
    endFrame: look,
  };
}
