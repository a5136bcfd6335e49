import type { ReactiveController, ReactiveControllerHost } from 'lit';
import { BenchKeeper } from './bench-keeper.ts';
import { KeptFiles } from './kept-files.ts';
import { KeptNotes } from './kept-notes.ts';
import { KeptTexts, type Memory } from './kept-texts.ts';
import { MapKeeper } from './map-keeper.ts';
import { OwnKeeper } from './own-keeper.ts';

/** What is chosen and typed on the page, kept over a reload or a crash, in the browser that it was typed in. */
export class KeptPage implements ReactiveController {
  readonly notes: KeptNotes;
  readonly bench: BenchKeeper;
  readonly own: OwnKeeper;
  readonly map: MapKeeper;

  /** `memory` is asked each time, for a browser may refuse it. */
  constructor(host: ReactiveControllerHost, memory: () => Memory) {
    this.notes = new KeptNotes(host);
    const texts = new KeptTexts(memory, this.notes.refuse);
    this.bench = new BenchKeeper(texts, this.notes);
    const files = new KeptFiles();
    this.own = new OwnKeeper(texts, files, this.notes);
    this.map = new MapKeeper(texts, files, this.notes);
    host.addController(this);
  }

  hostConnected(): void {
    window.addEventListener('pagehide', this.bench.write);
    document.addEventListener('visibilitychange', this.bench.write);
  }

  hostDisconnected(): void {
    this.bench.write();
    window.removeEventListener('pagehide', this.bench.write);
    document.removeEventListener('visibilitychange', this.bench.write);
  }
}
