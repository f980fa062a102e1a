// The closed list of reasons for which a device is turned away.

export type RefusalReason =
  | 'connections-full'
  | 'connect-too-late'
  | 'not-mqtt'
  | 'no-credential'
  | 'client-id-not-device'
  | 'will-not-allowed'
  | 'too-many-failures'
  | 'wrong-credential'
  | 'authentication-failed'
  | 'packet-too-large'
  | 'exactly-once-unsupported'
  | 'packet-unfinished'
  | 'keepalive-elapsed'
  | 'topic-not-allowed'
  | 'subscription-not-allowed'
  | 'subscriber-too-slow'
  | 'taken-over'
  | 'not-stored'
  | 'connection-failed'
  | 'reports-left-out';

export interface Refusal {
  readonly device?: string;
  readonly reason: RefusalReason;
  /** Words of the device in it are quoted and cut. */
  readonly detail: string;
}

const QUOTED_CHARACTERS_MAX = 120;

/** What a device sent, made harmless for a line of a log. */
export function quoted(text: string): string {
  const cut = text.length > QUOTED_CHARACTERS_MAX ? `${text.slice(0, QUOTED_CHARACTERS_MAX)}…` : text;
  return JSON.stringify(cut);
}

const WINDOW_MS = 1_000;

/** Counts all, and passes so many on per second that a stranger cannot fill the log. */
export class RefusalReports {
  count = 0;
  readonly #perSecond: number;
  readonly #tell: (refusal: Refusal) => void;
  #windowEndsAtMs = 0;
  #told = 0;
  #leftOut = 0;

  constructor(perSecond: number, tell: (refusal: Refusal) => void) {
    this.#perSecond = perSecond;
    this.#tell = tell;
  }

  add(refusal: Refusal, nowMs: number): void {
    this.count += 1;
    if (nowMs >= this.#windowEndsAtMs) {
      if (this.#leftOut > 0)
        this.#tell({ reason: 'reports-left-out', detail: `${this.#leftOut} more within a second` });
      this.#windowEndsAtMs = nowMs + WINDOW_MS;
      this.#told = 0;
      this.#leftOut = 0;
    }
    if (this.#told++ < this.#perSecond) this.#tell(refusal);
    else this.#leftOut += 1;
  }
}
