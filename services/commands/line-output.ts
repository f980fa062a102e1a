// Lines to standard output in large pieces, at the pace of whoever reads them.
import type { Writable } from 'node:stream';

const PIECE_CHARACTERS = 65_536;

export class LineOutput {
  readonly #to: Writable;
  #text = '';
  #written: Promise<void> = Promise.resolve();

  constructor(to: Writable = process.stdout) {
    this.#to = to;
  }

  write(line: string): void {
    this.#text += `${line}\n`;
    if (this.#text.length >= PIECE_CHARACTERS) this.#flush();
  }

  /** Resolves when no more than one piece waits; rejects once nobody reads any more. */
  keepUp(): Promise<void> {
    return this.#written;
  }

  end(): Promise<void> {
    this.#flush();
    return this.#written;
  }

  #flush(): void {
    const text = this.#text;
    this.#text = '';
    if (text === '') return;
    this.#written = this.#written.then(() => this.#put(text));
    // Told to whoever waits next; until then it is nobody's fault.
    this.#written.catch(() => undefined);
  }

  #put(text: string): Promise<void> {
    return new Promise((resolve, reject) => {
      this.#to.write(text, (failure) => (failure ? reject(failure) : resolve()));
    });
  }
}
