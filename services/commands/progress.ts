// How far a long work is: one line that is written over on a terminal, a few lines in a log.

const CLEAR_LINE = '\r\u001B[K';
const LOG_STEPS = 4;

export interface ProgressScreen {
  readonly isTTY?: boolean;
  write(text: string): unknown;
}

export class Progress {
  readonly #what: string;
  readonly #screen: ProgressScreen;
  readonly #begun = performance.now();
  #shown = -1;

  /** Says at once what it is about; on standard error unless told otherwise. */
  constructor(what: string, screen: ProgressScreen = process.stderr) {
    this.#what = what;
    this.#screen = screen;
    this.at(0);
  }

  /** From 0 to 1. */
  at(share: number): void {
    const isTerminal = this.#screen.isTTY === true;
    const steps = isTerminal ? 100 : LOG_STEPS;
    const step = Math.floor(Math.min(1, Math.max(0, share)) * steps);
    if (step <= this.#shown || step === steps) return;
    this.#shown = step;
    const percent = step === 0 ? '…' : `${Math.round((step / steps) * 100)} %`;
    this.#screen.write(isTerminal ? `${CLEAR_LINE}${this.#what} ${percent}` : `${this.#what} ${percent}\n`);
  }

  done(): void {
    const seconds = ((performance.now() - this.#begun) / 1000).toFixed(1);
    this.#screen.write(`${this.#screen.isTTY === true ? CLEAR_LINE : ''}${this.#what} done in ${seconds} s\n`);
  }

  /** What is written next begins on a line of its own. */
  broken(): void {
    if (this.#screen.isTTY === true) this.#screen.write('\n');
  }
}
