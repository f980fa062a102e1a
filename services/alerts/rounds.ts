// The rounds: each change of a hold is planned on each line, tried, recorded, and planned again until nothing is left.
// The journal is the truth: at the start, and after more holds came than are watched at once, the list is read again.
import type { NoticeTry } from '../../shared/acts.ts';
import type { Instant } from '../../shared/time.ts';
import type { HoldView } from '../../shared/views.ts';
import type { Line } from './line.ts';
import { nextNotice, waitAfter, type NextNotice } from './plan.ts';
import type { AlertPorts, Alerts, ChannelTest } from './ports.ts';
import type { AlertLimits } from './settings.ts';
import { afterReal, type After } from './timer.ts';
import { Tries } from './tries.ts';

export interface RoundsOf {
  readonly plant: string;
  readonly dashboard?: string;
  readonly limits: AlertLimits;
  readonly lines: readonly Line[];
  readonly ports: AlertPorts;
}

type ToSend = Extract<NextNotice, { kind: 'send' }>;
type ToGiveUp = Extract<NextNotice, { kind: 'give-up' }>;

export class Rounds implements Alerts {
  readonly #of: RoundsOf;
  readonly #after: After;
  /** Those with something left to do. */
  readonly #holds = new Map<string, HoldView>();
  readonly #tries = new Tries();
  readonly #underWay = new Set<Promise<void>>();
  readonly #breakOff = new AbortController();
  #wake: { readonly at: Instant; readonly cancel: () => void } | undefined;
  #moreThanWatched = false;
  #closed = false;

  constructor(of: RoundsOf) {
    this.#of = of;
    this.#after = of.ports.after ?? afterReal;
    if (of.lines.length > 0) this.#keep(this.#readAll(1));
  }

  holdChanged(hold: HoldView): void {
    if (this.#closed || this.#of.lines.length === 0) return;
    const known = this.#holds.get(hold.holdId);
    if (known === undefined && this.#holds.size >= this.#of.limits.holdsMax) {
      this.#moreThanWatched = true;
      return;
    }
    // Steps and escalations only grow: a view with fewer is older.
    if (known !== undefined && lengthOf(known) > lengthOf(hold)) return;
    this.#holds.set(hold.holdId, hold);
    for (const line of this.#of.lines) this.#consider(line, hold);
    this.#retire(hold.holdId);
  }

  async test(channel: string): Promise<ChannelTest> {
    const line = this.#of.lines.find((one) => one.channel === channel);
    if (line === undefined || this.#closed) return { ok: false, detail: `no channel ${channel} is open` };
    if (line.testing) return { ok: false, detail: 'a test of this channel is under way' };
    line.testing = true;
    try {
      return await line.way.test(this.#of.plant, channel, this.#of.ports.clock.now(), this.#breakOff.signal);
    } finally {
      line.testing = false;
    }
  }

  channels(): readonly { readonly channel: string; readonly to: string }[] {
    return this.#of.lines.map(({ channel, way }) => ({ channel, to: way.to }));
  }

  pending(): number {
    return this.#of.lines.reduce((sum, line) => sum + line.size(), 0);
  }

  async close(): Promise<void> {
    this.#closed = true;
    this.#wake?.cancel();
    for (const line of this.#of.lines) {
      line.ready.clear();
      line.waiting.clear();
    }
    let cancel = (): void => undefined;
    const limit = new Promise<void>((resolve) => {
      cancel = this.#after(this.#of.limits.closeWithinMs, resolve);
    });
    await Promise.race([Promise.all(this.#underWay), limit]);
    cancel();
    this.#breakOff.abort();
  }

  #plan(line: Line, hold: HoldView): NextNotice {
    const { limits, ports } = this.#of;
    return nextNotice(hold, line.channel, (id) => this.#tries.last(hold, id), limits, ports.clock.now());
  }

  #consider(line: Line, hold: HoldView): void {
    if (this.#closed || line.busy.has(hold.holdId)) return;
    const next = this.#plan(line, hold);
    switch (next.kind) {
      case 'send':
        line.makeReady(hold.holdId);
        this.#pump(line);
        return;
      case 'wait':
        line.makeWait(hold.holdId, next.until);
        this.#wakeBy(next.until);
        return;
      case 'give-up':
        line.drop(hold.holdId);
        this.#run(line, hold, () => this.#giveUp(line, hold, next));
        return;
      case 'nothing':
        line.drop(hold.holdId);
        return;
    }
  }

  #pump(line: Line): void {
    while (!this.#closed && line.busy.size < this.#of.limits.inFlightMax) {
      const holdId = line.next();
      if (holdId === undefined) return;
      const hold = this.#holds.get(holdId);
      if (hold === undefined) continue;
      const next = this.#plan(line, hold);
      if (next.kind === 'send') this.#run(line, hold, () => this.#send(line, hold, next));
      else this.#consider(line, hold);
    }
  }

  /** One notice of this hold on this line; afterwards whatever the hold has become is planned again. */
  #run(line: Line, hold: HoldView, work: () => Promise<void>): void {
    line.busy.add(hold.holdId);
    this.#keep(this.#workThenPlan(line, hold, work));
  }

  async #workThenPlan(line: Line, { holdId }: HoldView, work: () => Promise<void>): Promise<void> {
    try {
      await work();
    } catch (error) {
      this.#of.ports.log.warn(
        { holdId, channel: line.channel, error: String(error) },
        'a try could not be put on record',
      );
    }
    line.busy.delete(holdId);
    const hold = this.#holds.get(holdId);
    if (hold !== undefined) this.#consider(line, hold);
    this.#retire(holdId);
    this.#pump(line);
  }

  /** Kept until it is done, so that close() can wait for it. */
  #keep(work: Promise<void>): void {
    const kept = work.finally(() => this.#underWay.delete(kept));
    this.#underWay.add(kept);
  }

  async #send(line: Line, hold: HoldView, { noticeId, reason, attempt }: ToSend): Promise<void> {
    const { plant, dashboard, limits } = this.#of;
    const about = { plant, channel: line.channel, noticeId, reason, ...(dashboard === undefined ? {} : { dashboard }) };
    const { ok, detail } = await line.way.tell(hold, about, this.#breakOff.signal);
    // Whether it arrived is not known: nothing is put on record, and the next start sends it again under the same id.
    if (!ok && this.#breakOff.signal.aborted) return;
    const outcome = ok ? 'sent' : attempt >= limits.attemptsMax ? 'given-up' : 'failed';
    await this.#record(line, {
      noticeId,
      holdId: hold.holdId,
      attempt,
      outcome,
      detail,
      to: line.way.toOf(hold, about),
    });
  }

  async #giveUp(line: Line, { holdId, state }: HoldView, { noticeId, attempt, why }: ToGiveUp): Promise<void> {
    const { to } = line.way;
    const detail =
      why === 'overtaken' ? `overtaken: the notice that it is ${state} tells of every step` : 'no try is left';
    await this.#record(line, { noticeId, holdId, attempt, outcome: 'given-up', detail, to });
  }

  /** Remembered first: even where the journal cannot take it, nothing is sent twice by this process. */
  async #record(line: Line, made: Omit<NoticeTry, 'channel'>): Promise<void> {
    const { ports } = this.#of;
    this.#tries.made(made.noticeId, made.outcome, made.attempt, ports.clock.now());
    if (made.outcome !== 'sent') ports.log.warn({ ...made, channel: line.channel }, 'a notice was not delivered');
    await ports.record({ ...made, channel: line.channel });
  }

  #retire(holdId: string): void {
    if (this.#of.lines.some((line) => line.has(holdId))) return;
    this.#holds.delete(holdId);
    if (!this.#moreThanWatched || this.#closed || this.#holds.size > this.#of.limits.holdsMax / 2) return;
    this.#moreThanWatched = false;
    this.#keep(this.#readAll(1));
  }

  /** One timer for all: it is set anew only where it would come too late. */
  #wakeBy(until: Instant): void {
    if (this.#wake !== undefined && this.#wake.at <= until) return;
    this.#wake?.cancel();
    const wait = Math.max(1, until - this.#of.ports.clock.now());
    this.#wake = { at: until, cancel: this.#after(wait, () => this.#woken()) };
  }

  #woken(): void {
    this.#wake = undefined;
    for (const line of this.#of.lines) {
      for (const holdId of line.waiting.keys()) {
        const hold = this.#holds.get(holdId);
        if (hold !== undefined) this.#consider(line, hold);
      }
    }
  }

  async #readAll(attempt: number): Promise<void> {
    const { ports, limits } = this.#of;
    try {
      for (const hold of await ports.holds()) this.holdChanged(hold);
    } catch (error) {
      ports.log.warn({ attempt, error: String(error) }, 'the list of holds could not be read for the alerts');
      if (this.#closed || attempt >= limits.attemptsMax) return;
      this.#after(waitAfter(attempt, limits), () => this.#keep(this.#readAll(attempt + 1)));
    }
  }
}

const lengthOf = ({ steps, escalations = [] }: HoldView): number => steps.length + escalations.length;
