import type { ReactiveController, ReactiveControllerHost } from 'lit';

/** Files that are dropped anywhere on the page; text that is dragged goes its own way. */
export class FileDrop implements ReactiveController {
  readonly #host: ReactiveControllerHost;
  readonly #take: (files: readonly File[]) => void;
  /** Elements that the pointer is in with files: one is entered before the other is left. */
  #depth = 0;

  constructor(host: ReactiveControllerHost, take: (files: readonly File[]) => void) {
    this.#host = host;
    this.#take = take;
    host.addController(this);
  }

  /** Files are held over the page. */
  get isOver(): boolean {
    return this.#depth > 0;
  }

  hostConnected(): void {
    window.addEventListener('dragenter', this.#enter);
    window.addEventListener('dragleave', this.#leave);
    window.addEventListener('dragover', this.#over);
    window.addEventListener('drop', this.#drop);
  }

  hostDisconnected(): void {
    window.removeEventListener('dragenter', this.#enter);
    window.removeEventListener('dragleave', this.#leave);
    window.removeEventListener('dragover', this.#over);
    window.removeEventListener('drop', this.#drop);
  }

  #enter = (event: DragEvent): void => {
    if (hasFiles(event)) this.#become(this.#depth + 1);
  };

  #leave = (event: DragEvent): void => {
    if (hasFiles(event)) this.#become(Math.max(0, this.#depth - 1));
  };

  #over = (event: DragEvent): void => {
    // Else the browser would leave the page and show the file.
    if (hasFiles(event)) event.preventDefault();
  };

  #drop = (event: DragEvent): void => {
    if (!hasFiles(event)) return;
    event.preventDefault();
    this.#become(0);
    this.#take([...event.dataTransfer!.files]);
  };

  #become(depth: number): void {
    this.#depth = depth;
    this.#host.requestUpdate();
  }
}

const hasFiles = ({ dataTransfer }: DragEvent): boolean => dataTransfer?.types.includes('Files') === true;
