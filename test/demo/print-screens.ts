import { writeFileSync } from 'node:fs';
import { Lamplighter, screen } from '../lamplighter.ts';
import { pngOf } from './png.ts';

/**
 * Every screen of Lamplighter as a PNG file: build this module as the commands are built and run it with a folder.
 * Prints the names of the files as JSON.
 */
const folder = process.argv[2] ?? '.';
const names: string[] = [];

function print(name: string, machine: Lamplighter): void {
  writeFileSync(`${folder}/${name}.png`, pngOf(machine.picture()));
  names.push(name);
}

/** Shoot at whatever is live until so many shots were taken. */
function play(machine: Lamplighter, shots: number): void {
  for (let shot = 0; shot < shots; ) {
    const live = [0, 1, 2].filter((k) => machine.byte('targetLive', k) === 1);
    const k = live[shot % live.length];
    machine.runFrames(20);
    if (k === undefined) continue;
    machine.aimAt({ x: machine.byte('targetX', k) + 8, y: machine.byte('targetY', k) + 8 });
    machine.trigger = true;
    machine.runFrames(3);
    machine.trigger = false;
    machine.runFrames(14);
    shot++;
  }
}

const game = new Lamplighter({ path: screen(50), aim: { x: 128, y: 120 } });
game.runFrames(40);
print('title', game);
game.press('Start');
game.runFrames(20);
print('calibration', game);
game.pull();
game.runUntil(() => game.byte('calibration') === 2, 400);
game.runFrames(10);
print('calibration-good', game);
game.runFrames(160);
print('street-dark', game);
game.aimAt({ x: 8, y: 8 });
game.trigger = true;
for (let frame = 1; frame <= 8; frame++) {
  game.runFrames(1);
  if (frame >= 4 && frame % 2 === 0) print(`shot-${frame}`, game);
}
game.trigger = false;
game.runFrames(40);
play(game, 5);
print('street-moths', game);
game.press('Start');
print('pause', game);
game.press('Start');
play(game, 20);
print('street-later', game);
game.runUntil(() => game.says('RUN OUT'), 6000);
game.runFrames(3);
print('game-over', game);

const blinded = new Lamplighter({ light: () => true });
blinded.runFrames(40);
blinded.press('B');
blinded.runFrames(10);
blinded.pull();
blinded.runUntil(() => blinded.byte('calibration') >= 2, 300);
blinded.runFrames(10);
print('calibration-refused', blinded);

const practice = new Lamplighter({ strategy: 'same-frame-tested' });
practice.startPractice();
print('practice-lamps', practice);
practice.press('A');
print('practice-moths', practice);

console.log(JSON.stringify(names));
