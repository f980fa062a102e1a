// The plant's one order of events: intake, journal with the rules inside its commit, then what is to be told to whom.
import { ACT_SCHEMAS, type ActKind, type Actor } from '../../shared/acts.ts';
import type { Draft, Entry, Position } from '../../shared/entries.ts';
import { PLAIN } from '../../shared/fault-words.ts';
import type { Outcome } from '../../shared/outcomes.ts';
import type { Receipt } from '../../shared/receipts.ts';
import type { Clock } from '../../shared/time.ts';
import type { WaveDone } from '../../shared/wave-job.ts';
import type { BenchAnswer, Keeper, Publication } from '../holds/index.ts';
import { arrivalsOf, faultsOf, idAlreadyUsed, Receipts } from '../intake/index.ts';
import type { Delivered, Intake, Taken } from '../intake/index.ts';
import type { Arrival, Journal, Stored } from '../journal/index.ts';
import { actProblem, declarationFaults, actIdentity, type KnownAct } from './person-act.ts';
import type { ActDone, RetryDone, Told } from './told.ts';
import { repeatedIdArrival, takeRejected } from './rejected.ts';
import { analysedArrival, analysedArrivals, waveJobsOf } from './windows.ts';

export type { ActDone, RetryDone, Told } from './told.ts';

export interface PlantParts {
  readonly plant: string;
  readonly journal: Pick<Journal, 'append' | 'head' | 'read' | 'rejectedAt' | 'waveKnownAt'>;
  readonly keeper: Keeper;
  readonly intake: Intake;
  readonly clock: Clock;
  /** Makes the id of a person's act; fresh each time. */
  readonly freshId: () => string;
}

interface StoredDeliveries {
  readonly taken: readonly Taken[];
  readonly stored: readonly Stored[];
  readonly outcomes: readonly Outcome[];
}

export class Plant {
  readonly #parts: PlantParts;
  readonly #receipts: Receipts;
  /** One append at a time: order is what the journal is for. */
  #turn: Promise<unknown> = Promise.resolve();

  #failure: Error | undefined;

  constructor(parts: PlantParts) {
    this.#parts = parts;
    this.#receipts = new Receipts(parts.plant);
  }

  get id(): string {
    return this.#parts.plant;
  }

  /** Why nothing more can be stored, once an append has failed. Whatever the floor now holds, the journal is what counts. */
  get failure(): Error | undefined {
    return this.#failure;
  }

  /** Where the journal stands once all that was asked for before is stored. */
  position(): Promise<Position> {
    return this.#inTurn(async () => (await this.#parts.journal.head()).position);
  }

  /** Resolves when all of it is durable: then, and not before, may it be acknowledged. */
  admit(deliveries: readonly Delivered[]): Promise<Told> {
    return this.#inTurn(async () => {
      const { taken, stored, outcomes } = await this.#store(deliveries);
      const receipts = [...this.#receiptsOf(taken, stored), ...this.#answersAgain(taken, stored)];
      const benchAnswers = this.#benchAnswers(draftsOf(taken), stored);
      const waves = waveJobsOf(this.#parts.keeper, arrivalsOf(taken), stored);
      return { ...this.#told(outcomes, receipts), benchAnswers, waves };
    });
  }

  /** The same of one that somebody waits for, who is given its receipt. */
  receive(delivery: Delivered): Promise<{ readonly receipt: Receipt; readonly told: Told }> {
    return this.#inTurn(async () => {
      const { taken, stored, outcomes } = await this.#store([delivery]);
      const [one] = taken;
      if (one === undefined) throw new Error('intake made nothing of a delivery');
      const waves = waveJobsOf(this.#parts.keeper, arrivalsOf(taken), stored);
      return { receipt: this.#receipts.receiptOf(one, stored[0]), told: { ...this.#told(outcomes, []), waves } };
    });
  }

  /** The same of what is long past, and nobody is told. */
  record(deliveries: readonly Delivered[]): Promise<void> {
    return this.#inTurn(async () => void (await this.#store(deliveries)));
  }

  /** The same of one alone, which may be on record already; gives back where it stands. */
  place(delivery: Delivered): Promise<Position> {
    return this.#inTurn(async () => positionOf((await this.#store([delivery])).stored[0]));
  }

  /** Whether a person had this rejected message read again. */
  async isRetried(rejected: Position): Promise<boolean> {
    return (await this.#parts.journal.rejectedAt(rejected))?.state === 'retried';
  }

  act(actor: Actor, kind: ActKind, data: unknown, known?: KnownAct): Promise<ActDone> {
    const parsed = ACT_SCHEMAS[kind].safeParse(data, PLAIN);
    if (!parsed.success) return Promise.resolve({ kind: 'invalid', problem: actProblem(faultsOf(parsed.error, data)) });
    const now = known?.at === undefined ? this.#parts.clock.now() : undefined;
    // What another journal has on record already stays what it is.
    const faults = known?.asNew === true ? [] : declarationFaults(parsed.data, now);
    if (faults.length > 0) return Promise.resolve({ kind: 'invalid', problem: actProblem(faults) });
    const id = known?.id ?? this.#parts.freshId();
    const draft = { kind, at: known?.at ?? now, id, actor, data: parsed.data } as Draft;
    const arrival = known?.id === undefined ? { draft } : { draft, ...actIdentity(this.id, actor, known, data) };
    return this.#inTurn(async () => {
      const { stored, outcomes } = await this.#append([arrival]);
      const told = this.#told(outcomes, []);
      const [one] = stored;
      const isAgain = one?.kind === 'duplicate' && now !== undefined;
      if (isAgain && !one.sameContent) return { kind: 'invalid', problem: idAlreadyUsed(id) };
      // Whoever missed the answer is given it again: what was refused stays refused.
      const made = isAgain ? await this.#outcomesAt(positionOf(one)) : outcomes;
      const refused = made.find((outcome) => outcome.kind === 'act-refused');
      if (refused !== undefined) return { kind: 'refused', why: refused.why, told };
      return { kind: 'done', position: positionOf(one), told };
    });
  }

  tick(): Promise<Told> {
    return this.note({ kind: 'tick', at: this.#parts.clock.now() });
  }

  /** Puts on record what came neither from a device nor as a person's act. */
  note(draft: Draft): Promise<Told> {
    return this.#inTurn(async () => {
      const { outcomes } = await this.#append([{ draft }]);
      return this.#told(outcomes, []);
    });
  }

  /** Puts on record what was made of raw windows, of each once, in one commit; of those that are not here, nothing. */
  analysed(done: readonly WaveDone[]): Promise<Told> {
    return this.#inTurn(async () => {
      const { journal, keeper, clock } = this.#parts;
      let next = (await journal.head()).position + 1;
      const arrivals: Arrival[] = [];
      for (const one of new Map(done.map((each) => [each.waveId, each])).values()) {
        const row = await journal.waveKnownAt(one.waveId);
        if (row?.state !== 'waiting') continue;
        const { noReading } = keeper.waveContext(row);
        const more = analysedArrivals(row, one, { at: clock.now(), next, noReading });
        next += more.length;
        arrivals.push(...more);
      }
      if (arrivals.length === 0) return this.#told([], []);
      const { outcomes } = await this.#append(arrivals);
      return this.#told(outcomes, []);
    });
  }

  /** What a recording says was made of a window; `summary` is then the entry before, where it says that there was one. */
  recordAnalysed(draft: Extract<Draft, { kind: 'analysed' }>, asNew: boolean): Promise<void> {
    return this.#inTurn(async () => {
      const { position } = await this.#parts.journal.head();
      const placed = draft.summary === undefined ? draft : { ...draft, summary: position };
      await this.#append([{ ...analysedArrival(placed), asNew }]);
    });
  }

  /** Reads rejected bytes again, after a fix: of an enrolment, say, or of the program. */
  retry(actor: Actor, position: Position): Promise<RetryDone> {
    return this.#inTurn(async () => {
      const row = await this.#parts.journal.rejectedAt(position);
      if (row === undefined || row.state === 'retried') return { kind: 'unknown' };
      const at = this.#parts.clock.now();
      const taken = takeRejected(this.#parts.intake, row, at);
      if (taken.problem !== undefined) return { kind: 'rejected', problem: taken.problem };
      if (taken.arrival === undefined) return { kind: 'unknown' };
      const { stored, outcomes } = await this.#append([taken.arrival]);
      const [read] = stored;
      if (read?.kind === 'duplicate' && !read.sameContent)
        return { kind: 'rejected', problem: idAlreadyUsed(taken.messageId) };
      // After it, so that it is never said of what is not there: between the two it would only be asked for again.
      const retried: Draft = { kind: 'retried', at, rejected: position, actor };
      const noted = await this.#append([{ draft: retried }]);
      const benchAnswers = this.#benchAnswers([taken.arrival.draft], stored);
      const waves = waveJobsOf(this.#parts.keeper, [taken.arrival], stored);
      const told = { ...this.#told([...outcomes, ...noted.outcomes], []), benchAnswers, waves };
      return { kind: 'kept', position: positionOf(read?.position === undefined ? noted.stored[0] : read), told };
    });
  }

  async #store(deliveries: readonly Delivered[]): Promise<StoredDeliveries> {
    const taken = deliveries.map((delivered) => this.#parts.intake.take(delivered));
    const arrivals = arrivalsOf(taken);
    if (arrivals.length === 0) return { taken, stored: [], outcomes: [] };
    const { stored, outcomes } = await this.#append(arrivals);
    await this.#keepReusedIds(deliveries, taken, stored);
    return { taken, stored, outcomes };
  }

  /** An id that came again with other content: the first stands, the other's bytes go to the rejected list. */
  async #keepReusedIds(
    deliveries: readonly Delivered[],
    taken: readonly Taken[],
    stored: readonly Stored[],
  ): Promise<void> {
    const arrivals: Arrival[] = [];
    let next = 0;
    taken.forEach((one, index) => {
      if (one.arrival === undefined) return;
      const outcome = stored[next++];
      const delivered = deliveries[index];
      if (delivered !== undefined && outcome?.kind === 'duplicate' && !outcome.sameContent) {
        arrivals.push(repeatedIdArrival(delivered, one));
      }
    });
    if (arrivals.length > 0) await this.#append(arrivals);
  }

  async #outcomesAt(position: Position): Promise<readonly Outcome[]> {
    for await (const { outcomes } of this.#parts.journal.read(position, position)) {
      const made = outcomes.filter(({ cause }) => cause === position);
      if (made.length > 0) return made;
    }
    return [];
  }

  #receiptsOf(taken: readonly Taken[], stored: readonly Stored[]): Publication[] {
    const at = this.#parts.clock.now();
    const receipts: Publication[] = [];
    let next = 0;
    for (const one of taken) {
      const receipt = this.#receipts.of(one, one.arrival === undefined ? undefined : stored[next++], at);
      if (receipt !== undefined) receipts.push({ ...receipt, retain: false });
    }
    return receipts;
  }

  /** A device that asks again under the same id has missed the answer. */
  #answersAgain(taken: readonly Taken[], stored: readonly Stored[]): Publication[] {
    const drafts = draftsOf(taken);
    return stored.flatMap((one, index) => {
      const draft = drafts[index];
      if (draft?.kind !== 'query' || one.kind !== 'duplicate' || !one.sameContent || one.position === undefined)
        return [];
      return this.#parts.keeper.answerAgain(draft, one.position);
    });
  }

  /** Each time a result comes, again under the same id too: a bench that missed the answer sends it again. */
  #benchAnswers(drafts: readonly Draft[], stored: readonly Stored[]): BenchAnswer[] {
    return stored.flatMap((one, index) => {
      const draft = drafts[index];
      if (draft?.kind !== 'result' || one.position === undefined) return [];
      if (one.kind === 'duplicate' && !one.sameContent) return [];
      const { device, id, data } = draft;
      const { assemblyId, runId } = data;
      return this.#parts.keeper.benchAnswer({ position: one.position, device, id, assemblyId, runId }) ?? [];
    });
  }

  async #append(arrivals: readonly Arrival[]): Promise<{ stored: readonly Stored[]; outcomes: readonly Outcome[] }> {
    let outcomes: readonly Outcome[] = [];
    const decide = (entries: readonly Entry[]): readonly Outcome[] => (outcomes = this.#parts.keeper.decide(entries));
    const stored = await this.#parts.journal.append(arrivals, decide).catch((failure: unknown) => {
      this.#failure = failure instanceof Error ? failure : new Error(String(failure));
      throw failure;
    });
    for (const [index, one] of stored.entries()) {
      if (one.kind === 'duplicate') this.#parts.keeper.repeated(arrivals[index]?.draft);
    }
    return { stored, outcomes };
  }

  #told(outcomes: readonly Outcome[], receipts: readonly Publication[]): Told {
    const holdIds = new Set<string>();
    for (const outcome of outcomes) {
      if (outcome.kind === 'hold-raised') holdIds.add(outcome.hold.holdId);
      else if (outcome.kind === 'hold-stepped' || outcome.kind === 'hold-escalated') holdIds.add(outcome.holdId);
    }
    const publications = [...receipts, ...this.#parts.keeper.publications(outcomes)];
    return { publications, holdIds: [...holdIds], benchAnswers: [], waves: [] };
  }

  #inTurn<T>(work: () => Promise<T>): Promise<T> {
    const mine = this.#turn.then(work);
    this.#turn = mine.catch(() => undefined);
    return mine;
  }
}

const draftsOf = (taken: readonly Taken[]): readonly Draft[] => taken.flatMap(({ arrival }) => arrival?.draft ?? []);

const positionOf = (stored: Stored | undefined): Position => stored?.position ?? 0;
