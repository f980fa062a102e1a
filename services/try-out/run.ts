// A draft tried on history: the readings of the spindles that it touches, from the journal's columns, under other limits and settings.
import type { Entry, EntryOf } from '../../shared/entries.ts';
import { NOT_COMPARABLE_REASONS } from '../../shared/outcomes.ts';
import type { Span } from '../../shared/hold-pairing.ts';
import type { Instant } from '../../shared/time.ts';
import type { HoldBefore, TryOutReason } from '../../shared/try-out.ts';
import type { JournalReader, ReadingColumns } from '../journal/index.ts';
import { reasonCode } from '../journal/index.ts';
import { foldClock, isJudgeable, measuredAtOf, newClockLane, type ClockLane } from '../rules/index.ts';
import { Recorded } from './on-record.ts';
import { SpindleRun, type ReadingSeen } from './spindle-run.ts';
import type { Tried } from './subjects.ts';

export interface RunAsked {
  readonly plant: string;
  readonly from: Instant;
  readonly to: Instant;
  readonly tried: readonly Tried[];
  readonly before: readonly HoldBefore[];
}

export interface RunDone {
  readonly readings: number;
  /** Arrival of the first and the last entry that was looked at. */
  readonly span: Span;
  readonly runs: ReadonlyMap<string, SpindleRun>;
  readonly recorded: Recorded;
  readonly declaredMeanwhile: ReadonlySet<string>;
}

/** By the code in a column: whether a limit is judged by such a reading. What the rules failed on is judged by none. */
const JUDGEABLE: readonly boolean[] = codes();

function codes(): readonly boolean[] {
  const judgeable = Array<boolean>(NOT_COMPARABLE_REASONS.length + 1).fill(false);
  judgeable[0] = isJudgeable(undefined);
  for (const reason of NOT_COMPARABLE_REASONS) judgeable[reasonCode(reason)] = isJudgeable(reason);
  return judgeable;
}

/** `progress` hears the share done, 0 to 1, after each stretch. */
export async function runOver(
  journal: Pick<JournalReader, 'columns' | 'positionFrom'>,
  asked: RunAsked,
  progress: (share: number) => void,
): Promise<RunDone> {
  const first = await journal.positionFrom(asked.from);
  const last = (await journal.positionFrom(asked.to)) - 1;
  const run = new Run(asked, first, last);
  for await (const columns of journal.columns(first, last)) {
    run.take(columns);
    progress((columns.first + columns.count - first) / (last - first + 1));
  }
  return run;
}

interface Whose {
  readonly runs: readonly (SpindleRun | undefined)[];
  readonly clocks: readonly (ClockLane | undefined)[];
}

class Run implements RunDone {
  readings = 0;
  readonly runs: Map<string, SpindleRun>;
  readonly recorded: Recorded;
  readonly declaredMeanwhile = new Set<string>();
  /** The next position that was not taken: merged meanwhile, a stretch may begin with what was taken before. */
  #first: number;
  readonly #last: number;
  #begunAt: Instant;
  #endedAt: Instant;
  #isBegun = false;
  readonly #clocks = new Map<string, ClockLane>();
  readonly #interfaces = new Map<string, string>();
  /** Assembly by spindle, and the other way round. */
  readonly #loaded = new Map<string, string>();
  readonly #loadedIn = new Map<string, string>();
  readonly #seen: ReadingSeen = {
    position: 0,
    at: 0,
    measuredAt: 0,
    speedRpm: 0,
    overallMmS: 0,
    synchronousMmS: undefined,
  };

  constructor({ plant, from, tried, before }: RunAsked, first: number, last: number) {
    const standing = (of: string): readonly TryOutReason[] =>
      before.filter(({ spindleId }) => spindleId === of).map(({ reason }) => reason);
    this.runs = new Map(
      tried.map((one) => [one.subject.spindleId, new SpindleRun(plant, one, standing(one.subject.spindleId))]),
    );
    this.recorded = new Recorded(new Set(this.runs.keys()), before);
    this.#first = first;
    this.#last = last;
    this.#begunAt = from;
    this.#endedAt = from;
  }

  get span(): Span {
    return { from: this.#begunAt, to: this.#endedAt };
  }

  /** In the order of positions: what stands between two readings counts from there on. */
  take(columns: ReadingColumns): void {
    const { others, outcomes } = columns;
    let next = 0;
    let nextOutcome = 0;
    let reading = 0;
    const { summaries } = columns;
    const whose = this.#whose(columns);
    for (;;) {
      const other = others[next]?.position ?? Number.POSITIVE_INFINITY;
      const cause = outcomes[nextOutcome]?.cause ?? Number.POSITIVE_INFINITY;
      const until = Math.min(other, cause);
      reading = this.#takeReadings(columns, whose, { from: reading, until });
      if (until === Number.POSITIVE_INFINITY) break;
      if (other <= cause) {
        const entry = others[next];
        next += 1;
        if (entry !== undefined && this.#isWithin(other)) this.#takeOther(entry);
        continue;
      }
      // Of a reading its own outcomes come after it.
      if (columns.first + (summaries.places[reading] ?? 0) === cause && reading < summaries.count)
        reading = this.#takeReadings(columns, whose, { from: reading, until: cause + 1 });
      const outcome = outcomes[nextOutcome];
      nextOutcome += 1;
      if (outcome !== undefined && this.#isWithin(cause)) this.#takeOutcome(outcome);
    }
    this.#goesOn(columns);
  }

  #goesOn({ first, count, ats }: ReadingColumns): void {
    const begin = Math.max(this.#first, first);
    const end = Math.min(this.#last, first + count - 1);
    if (begin > end) return;
    if (!this.#isBegun) this.#begunAt = ats[begin - first] ?? this.#begunAt;
    this.#isBegun = true;
    this.#endedAt = ats[end - first] ?? this.#endedAt;
    this.#first = first + count;
  }

  /** By a stream of the stretch: the run that its readings are for, and its device's clock, where there is one. */
  #whose({ summaries: { streams } }: ReadingColumns): Whose {
    const runs = streams.map(({ spindleId }) => (spindleId === undefined ? undefined : this.runs.get(spindleId)));
    const clocks = streams.map(({ device }, index) => (runs[index] === undefined ? undefined : this.#clockOf(device)));
    return { runs, clocks };
  }

  #isWithin(position: number): boolean {
    return position >= this.#first && position <= this.#last;
  }

  /** Readings before a position; gives back the next one. */
  #takeReadings(
    { first, ats, summaries, reasons }: ReadingColumns,
    { runs, clocks }: Whose,
    { from, until }: { readonly from: number; readonly until: number },
  ): number {
    const { count, places, streamOf, times, speedRpm, overallMmS, synchronousMmS } = summaries;
    const seen = this.#seen;
    let i = from;
    for (; i < count; i += 1) {
      const place = places[i] ?? 0;
      const position = first + place;
      if (position >= until) break;
      const stream = streamOf[i] ?? 0;
      const run = runs[stream];
      const clock = clocks[stream];
      if (run === undefined || clock === undefined || !this.#isWithin(position)) continue;
      this.readings += 1;
      const at = ats[place] ?? 0;
      const time = times[i] ?? Number.NaN;
      const overall = overallMmS[i] ?? 0;
      const synchronous = synchronousMmS[i];
      if (JUDGEABLE[reasons[place] ?? 0] === true && run.concerns(overall, synchronous)) {
        seen.position = position;
        seen.at = at;
        seen.measuredAt = Number.isNaN(time) ? at : measuredAtOf(at, time, clock);
        seen.speedRpm = speedRpm[i] ?? 0;
        seen.overallMmS = overall;
        seen.synchronousMmS = synchronous;
        run.take(seen);
      }
      if (!Number.isNaN(time)) foldClock(clock, at, time);
    }
    return i;
  }

  #clockOf(device: string): ClockLane {
    const known = this.#clocks.get(device);
    if (known !== undefined) return known;
    const lane = newClockLane();
    this.#clocks.set(device, lane);
    return lane;
  }

  #clockAnew(device: string): void {
    Object.assign(this.#clockOf(device), newClockLane());
  }

  #takeOther(entry: Entry): void {
    if (entry.kind === 'load') this.#load(entry);
    else if (entry.kind === 'build' && entry.data.interface !== undefined)
      this.#interfaces.set(entry.data.assemblyId, entry.data.interface);
    else if (entry.kind === 'spindle-declared' && this.runs.has(entry.data.spindleId))
      this.declaredMeanwhile.add(entry.data.spindleId);
    // A start of a device: its clock is measured anew.
    else if (entry.kind === 'birth') this.#clockAnew(entry.device);
    if ('device' in entry && 'time' in entry && entry.time !== undefined)
      foldClock(this.#clockOf(entry.device), entry.at, entry.time);
  }

  #load({ data }: EntryOf<'load'>): void {
    const { spindleId } = data;
    const assemblyId = data.action === 'load' ? data.assemblyId : undefined;
    if (this.#loaded.get(spindleId) !== assemblyId) this.#takeOut(spindleId);
    const wasIn = assemblyId === undefined ? undefined : this.#loadedIn.get(assemblyId);
    // It is in one spindle at a time, whoever forgot to say that it was taken out.
    if (wasIn !== undefined && wasIn !== spindleId) {
      this.#takeOut(wasIn);
      this.runs.get(wasIn)?.loaded(undefined, undefined);
    }
    if (assemblyId !== undefined) {
      this.#loaded.set(spindleId, assemblyId);
      this.#loadedIn.set(assemblyId, spindleId);
    }
    const taper = assemblyId === undefined ? undefined : this.#interfaces.get(assemblyId);
    this.runs.get(spindleId)?.loaded(assemblyId, taper);
  }

  #takeOut(spindleId: string): void {
    const assemblyId = this.#loaded.get(spindleId);
    this.#loaded.delete(spindleId);
    if (assemblyId !== undefined) this.#loadedIn.delete(assemblyId);
  }

  #takeOutcome(outcome: ReadingColumns['outcomes'][number]): void {
    const stepped = this.recorded.take(outcome);
    if (stepped === undefined) return;
    const { spindleId, reason, step, wasWorkedOn } = stepped;
    const run = this.runs.get(spindleId);
    const isReleased = step.state === 'released' && step.deviation !== true;
    if (step.awaits === 'verification-run' || (isReleased && !wasWorkedOn)) run?.worked(reason);
    if (step.state === 'released' || step.state === 'void') run?.ended(reason, step.at);
  }
}
