import { describe, expect, test } from 'vitest';
import { assembleProgram } from '../../src/program/assembler/assembler.ts';
import { FLASH_PROFILES } from '../../src/safety/flash-profile.ts';
import { flashAdvice, verdictLines } from '../../src/safety/flash-text.ts';
import { checkFlashes } from '../../src/shot/flash-check.ts';
import { prepareScenario } from '../../src/shot/prepared-scenario.ts';
import { checkScenario } from '../../src/shot/scenario.ts';
import { firstLight } from '../first-light.ts';

const SIZE = { scale: 3, pixelAspect: 1 };

interface Pull {
  readonly atMs: number;
  readonly squeezeMs?: number;
}

/** A program that shows its backdrop in two colours in turn, `frames` pictures each; perhaps only while the trigger is held. */
function flasher(frames: number, first: string, second: string, held?: readonly Pull[]) {
  const source = `
        .setcpu "6502"
        .segment "HEADER"
        .byte $4E, $45, $53, $1A, 2, 1, $00, $08, 0, 0, 0, 0, 0, 0, 0, 8
        .segment "ZEROPAGE"
count:  .res 1
which:  .res 1
        .segment "CODE"
reset:  sei
        ldx #$FF
        txs
@warm:  bit $2002
        bpl @warm
@again: bit $2002
        bpl @again
        lda #${frames}
        sta count
        lda #0
        sta which
        lda #$80
        sta $2000
@wait:  jmp @wait
nmi:    ${held === undefined ? '' : 'lda $4017\n        and #$10\n        beq @done'}
        dec count
        bne @done
        lda #${frames}
        sta count
        lda which
        eor #1
        sta which
        lda #$3F
        sta $2006
        lda #$00
        sta $2006
        ldx which
        lda colours,x
        sta $2007
        lda #$00
        sta $2006
        sta $2006
@done:  rti
irq:    rti
        .segment "RODATA"
colours: .byte ${first}, ${second}
        .segment "PATTERNS"
        .res 16
        .segment "VECTORS"
        .addr nmi, reset, irq
`;
  const { image, errors } = assembleProgram('flasher.s', {
    readText: (name) => (name === 'flasher.s' ? source : undefined),
    readBytes: () => undefined,
  });
  if (image === null || errors.length > 0) throw new Error(JSON.stringify(errors));
  const scenario = {
    scenario: 1,
    title: 'flasher',
    image: 'flasher.bin',
    targets: { count: 1, isLive: '0', x: '0', y: '0', width: '16', height: '16' },
    said: { on: 'write', at: 0x7ff, target: '0' },
    lightPath: {
      stages: [],
      panel: { kind: 'beam-tube' },
      room: { kind: 'constant-light' },
      optics: { kind: 'gaussian-spot' },
      sensor: { kind: 'wide-band' },
    },
    shots: (held ?? [{ atMs: 500 }]).map((pull) => ({ aim: { x: 128, y: 120 }, ...pull })),
  };
  return prepareScenario(checkScenario(scenario), { image });
}

const verdictOf = (frames: number, first: string, second: string, profile = 'wcag-a') =>
  checkFlashes(flasher(frames, first, second), {
    profiles: FLASH_PROFILES.filter(({ id }) => id === profile),
    size: SIZE,
    seconds: 3,
  }).verdicts[0]!;

describe('programs that flash', () => {
  test.each([
    [1, 61],
    [3, 21],
    [10, 7],
    [11, 6],
  ])('white and black, %i pictures each: %i changes within a second', (frames, changes) => {
    const verdict = verdictOf(frames, '$20', '$0F');
    expect(verdict.worst[0]!.changes).toBe(changes);
    expect(verdict.passes).toBe(changes < 7);
  });

  test('red and black fail by red alone', () => {
    const { worst, passes } = verdictOf(4, '$06', '$0F');
    expect(passes).toBe(false);
    expect(worst.find(({ kind, counting }) => kind === 'older red' && counting === 'place')!.changes).toBe(16);
    expect(worst[0]!.changes).toBeLessThanOrEqual(2);
  });

  test('two greys that lie less than a tenth apart pass at any speed', () => {
    expect(verdictOf(1, '$2D', '$0F').passes).toBe(true);
  });

  test('the report says which rule, where, when, how much, the edition, and what to change', () => {
    const verdict = verdictOf(3, '$20', '$0F');
    const text = verdictLines(verdict).join('\n');
    expect(text).toMatch(/ABOVE THE LIMITS of wcag-a .*WCAG 2\.2 \(12\/2024\)/);
    expect(text).toMatch(
      /✕ general, at one place: 21 opposing changes within a second, the limit is 6 \(frame \d+, \d\.\d{3} s; dots 0 to 119/,
    );
    expect(flashAdvice([verdict]).join()).toMatch(/30 frames at 60 Hz and 25 at 50 Hz/);
    expect(flashAdvice([verdict]).join()).toMatch(/box of at most 32 dots/);
    expect(flashAdvice([verdictOf(3, '$20', '$0F', 'wcag-aaa')]).join()).not.toMatch(/box of at most/);
  });
});

test('the picture before the first change is kept with those of the worst second', () => {
  const { verdicts, played } = checkFlashes(flasher(30, '$20', '$0F'), {
    profiles: FLASH_PROFILES.slice(0, 1),
    size: SIZE,
    seconds: 3,
  });
  const { before, pictures } = verdicts[0]!.worstSecond!;
  expect(before!.timeS).toBeLessThan(pictures[0]!.timeS);
  expect(before!.picture[0]).not.toBe(pictures[0]!.picture[0]);
  expect(played).toEqual({ madeMs: [500], notWatchedMs: [], heldMs: [], alternatives: 0 });
});

test('shots that come after the time that is watched, or just before its end, are told', () => {
  const playedIn = (seconds: number) =>
    checkFlashes(flasher(30, '$20', '$0F'), { profiles: FLASH_PROFILES.slice(0, 1), size: SIZE, seconds }).played;
  expect(playedIn(0.4)).toEqual({ madeMs: [], notWatchedMs: [500], heldMs: [], alternatives: 0 });
  expect(playedIn(1)).toEqual({ madeMs: [500], notWatchedMs: [500], heldMs: [], alternatives: 0 });
});

describe('automatic fire', () => {
  const check = (...held: Pull[]) =>
    checkFlashes(flasher(4, '$20', '$0F', held), { profiles: FLASH_PROFILES.slice(0, 1), size: SIZE, seconds: 3 });

  test('the trigger is held as long as the scenario says', () => {
    expect(check({ atMs: 500 }).verdicts[0]!.passes).toBe(true);
    const { verdicts } = check({ atMs: 500, squeezeMs: 1000 });
    expect(verdicts[0]!.passes).toBe(false);
    expect(Math.max(...verdicts[0]!.worst.map(({ changes }) => changes))).toBeGreaterThanOrEqual(14);
  });

  test('a pull while it is still held is no pull, and said', () => {
    const late = { atMs: 700, squeezeMs: 30 };
    const { played } = check({ atMs: 500, squeezeMs: 30 }, { atMs: 520 }, { atMs: 570, squeezeMs: 30 }, late);
    expect(played).toMatchObject({ madeMs: [500, 570, 700], heldMs: [520] });
  });
});

test('First Light with one shot is far below every limit but that of any visible change', () => {
  const { verdicts } = checkFlashes(firstLight({}), { profiles: FLASH_PROFILES, size: SIZE, seconds: 2 });
  expect(verdicts.map(({ profile, passes }) => [profile, passes])).toEqual([
    ['wcag-a', true],
    ['wcag-aaa', true],
    ['tv-1702', true],
    ['trace-24', true],
  ]);
  expect(flashAdvice(verdicts)).toEqual([]);
});
