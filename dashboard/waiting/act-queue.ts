// Acts on holds on their way to the service. One that finds no way there waits in the memory of this page, and nowhere else,
// until it is sent once or taken back. Each has an id of its own, so that a try that did arrive is no second act.
import type { Found } from '../../shared/cause-words.ts';
import type { HoldActName } from '../../shared/rights.ts';
import type { HoldView } from '../../shared/views.ts';
import { whyNot, type Answer, type Api } from '../api.ts';

/** Acts by which somebody says that it may go on: they are meant for the hold as it was seen. */
export const SAYS_IT_IS_WELL: readonly HoldActName[] = ['release', 'deviate', 'confirm', 'void'];
/** Something between us and the service says that the service is away. */
const AWAY: readonly number[] = [502, 503, 504];
const TOO_MANY = 429;
const FAILED = 500;
const ID_BYTES = 16;

export interface PressedAct {
  readonly holdId: string;
  readonly act: HoldActName;
  readonly note: string;
  readonly found?: Found;
  /** Whose it is: it is sent under no other name. */
  readonly by: string;
  /** The hold as it was when it was pressed. */
  readonly seen: HoldView;
}

export interface WaitingAct extends PressedAct {
  readonly id: string;
  /** By this machine's clock. */
  readonly pressedAt: number;
  /** `trying`: for the first time. `changed`: the hold is another than was seen, so that its person is to look again. `refused`: the service said no. */
  readonly state: 'trying' | 'waiting' | 'sending' | 'changed' | 'refused';
  readonly why?: string;
}

export interface QueueParts {
  readonly api: () => Pick<Api, 'act' | 'hold' | 'session'>;
  readonly clock: () => number;
  readonly freshId: () => string;
  readonly onChange: () => void;
  /** One that had waited was done; this is the hold now. */
  readonly onSent: (act: WaitingAct, hold: HoldView) => void;
}

export class ActQueue {
  /** In the order in which they were pressed; another list at each change. */
  acts: readonly WaitingAct[] = [];
  readonly #parts: QueueParts;
  #sending = false;

  constructor(parts: QueueParts) {
    this.#parts = parts;
  }

  /** Whether leaving the page would lose something. */
  get holdsBack(): boolean {
    return this.acts.some(({ state }) => state !== 'refused');
  }

  of(holdId: string): WaitingAct | undefined {
    return this.acts.find((act) => act.holdId === holdId && act.state !== 'refused');
  }

  /** Tries it at once. With no way to the service it waits, and the answer says `unreachable`. */
  async press(pressed: PressedAct): Promise<Answer<HoldView>> {
    const { freshId, clock } = this.#parts;
    const act: WaitingAct = { ...pressed, id: freshId(), pressedAt: clock(), state: 'trying' };
    this.#set([...this.acts, act]);
    const answer = await this.#ask(act);
    if (isAway(answer)) {
      this.#put(act.id, 'waiting');
      return { kind: 'unreachable' };
    }
    // What is said at once is said where it was pressed.
    this.takeBack(act.id);
    return answer;
  }

  /** What waits is sent, each once, while `name` is signed in; whatever still finds no way goes on waiting. */
  async send(): Promise<void> {
    if (this.#sending) return;
    this.#sending = true;
    try {
      for (const { id } of this.acts) {
        const act = this.acts.find((one) => one.id === id);
        if (act?.state === 'waiting' && !(await this.#sendOne(act))) return;
      }
    } finally {
      this.#sending = false;
    }
  }

  /** Its person has looked at the hold as it is now. */
  sendAsItIsNow(id: string, seen: HoldView): void {
    this.#set(this.acts.map((act) => (act.id === id ? { ...act, seen, state: 'waiting' } : act)));
    void this.send();
  }

  /** Taken back while it waits, or put away once it was refused. */
  takeBack(id: string): void {
    this.#set(this.acts.filter((act) => act.id !== id));
  }

  /** False where there is still no way to the service. */
  async #sendOne(act: WaitingAct): Promise<boolean> {
    const session = await this.#parts.api().session();
    if (isAway(session)) return false;
    // Another person's, or nobody's, screen: it waits for its own.
    if (session.kind !== 'answer' || session.value.name !== act.by) return true;
    if (SAYS_IT_IS_WELL.includes(act.act)) {
      const now = await this.#parts.api().hold(act.holdId);
      if (isAway(now)) return false;
      if (now.kind === 'answer' && hasChanged(act, now.value)) {
        this.#put(act.id, 'changed');
        return true;
      }
    }
    // Taken back while it was asked for.
    if (this.acts.find(({ id }) => id === act.id)?.state !== 'waiting') return true;
    this.#put(act.id, 'sending');
    const answer = await this.#ask(act);
    if (isAway(answer)) {
      this.#put(act.id, 'waiting');
      return false;
    }
    // It refused nothing, it could not: nobody knows yet what became of the act.
    if (answer.kind === 'problem' && (answer.status === TOO_MANY || answer.status >= FAILED)) {
      this.#put(act.id, 'waiting', whyNot(answer));
      return false;
    }
    if (answer.kind === 'answer') {
      this.takeBack(act.id);
      this.#parts.onSent(act, answer.value);
    } else if (answer.kind === 'problem' && answer.status === 401) this.#put(act.id, 'waiting');
    else this.#put(act.id, 'refused', whyNot(answer));
    return true;
  }

  #ask({ holdId, act, note, found, id }: WaitingAct): Promise<Answer<HoldView>> {
    return this.#parts.api().act(holdId, act, { note, ...(found === undefined ? {} : { found }), actId: id });
  }

  #put(id: string, state: WaitingAct['state'], why?: string): void {
    this.#set(this.acts.map((act) => (act.id === id ? { ...act, state, ...(why === undefined ? {} : { why }) } : act)));
  }

  #set(acts: readonly WaitingAct[]): void {
    this.acts = acts;
    this.#parts.onChange();
  }
}

function isAway(answer: Answer<unknown>): boolean {
  return answer.kind === 'unreachable' || (answer.kind === 'problem' && AWAY.includes(answer.status));
}

/** A step of the same person is the act itself, which arrived although its answer did not: sent again, it says so. */
function hasChanged({ seen, by }: WaitingAct, now: HoldView): boolean {
  if (now.steps.slice(seen.steps.length).some((step) => step.by === by)) return false;
  return groundsOf(seen) !== groundsOf(now);
}

function groundsOf({ state, steps, findings = [], conditions, evidence }: HoldView): string {
  const met = conditions.map((condition) => condition.met);
  return JSON.stringify([state, steps.length, findings.length, met, evidence.clauses]);
}

/** Over plain HTTP the browser makes no UUID; random bytes it has everywhere. */
export function freshActId(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(ID_BYTES));
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('');
}
