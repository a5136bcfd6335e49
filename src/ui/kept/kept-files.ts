const DATABASE = 'latelight';
const STORE = 'kept';
/** A browser that has not answered after this has refused. Our choice. */
const LONGEST_MS = 3000;

/** Things of any size that stay when the page is closed: plain data and bytes, by name. */
export class KeptFiles {
  #database: Promise<IDBDatabase> | undefined;

  /** Undefined: nothing was kept. Rejects where the browser keeps nothing. */
  async get(name: string): Promise<unknown> {
    return await this.#run('readonly', (store) => store.get(name));
  }

  /** Rejects where it cannot be kept. */
  async put(name: string, value: unknown): Promise<void> {
    await this.#run('readwrite', (store) => store.put(value, name));
  }

  async remove(name: string): Promise<void> {
    await this.#run('readwrite', (store) => store.delete(name));
  }

  /** Give a thing that nobody can read a name of its own, and answer that. Rejects where it cannot be kept. */
  async putAside(name: string, value: unknown): Promise<string> {
    const aside = `${name}.unread-${Date.now()}`;
    await this.put(aside, value);
    await this.remove(name);
    return aside;
  }

  async #run<Answer>(mode: IDBTransactionMode, ask: (store: IDBObjectStore) => IDBRequest<Answer>): Promise<Answer> {
    this.#database ??= opened();
    const transaction = (await this.#database).transaction(STORE, mode);
    const request = ask(transaction.objectStore(STORE));
    await new Promise<void>((done, fail) => {
      transaction.oncomplete = () => done();
      transaction.onabort = () => fail(transaction.error ?? new Error('the browser broke it off'));
    });
    return request.result;
  }
}

const opened = (): Promise<IDBDatabase> =>
  new Promise((done, fail) => {
    const request = indexedDB.open(DATABASE, 1);
    request.onupgradeneeded = () => request.result.createObjectStore(STORE);
    request.onsuccess = () => done(request.result);
    request.onerror = () => fail(request.error);
    setTimeout(() => fail(new Error(`no answer after ${LONGEST_MS} ms`)), LONGEST_MS);
  });
