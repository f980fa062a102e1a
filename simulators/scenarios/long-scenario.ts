// A plant of weeks or months, played entry by entry in the order in which its messages come in; people answer to what is put on hold.
import type { Draft } from '../../shared/entries.ts';
import type { Outcome } from '../../shared/outcomes.ts';
import { MILLISECONDS_A_DAY, MILLISECONDS_A_MINUTE, MILLISECONDS_AN_HOUR, type Instant } from '../../shared/time.ts';
import { DAYS_PER_FAULT, FAULT_BEGINS_SHARE, KEPT_READINGS_MAX, NO_FAULT_SHARE } from './ranges.ts';
import { declarePlant } from './declaring.ts';
import { drawnIn } from './drawn-plant.ts';
import { FAULT_GROUPS, LONG_NON_FAULTS, type LongLabel, type NonFaultLabel, type WholeLoad } from './fault-kinds.ts';
import { nonFault } from './harmless-changes.ts';
import { beginWork, endWork, gap, nextSegment, startLoad, stopLoad } from './loads.ts';
import { People } from './people.ts';
import { plant } from './planting.ts';
import { readingAt } from './reading.ts';
import { openStage, tell, type Happening, type Stage } from './stage.ts';
import { buildAnew, prove } from './tool-room-work.ts';

const TICK_MS = MILLISECONDS_A_MINUTE;
/** Where a fault fits nowhere it is tried again so much later, so often. */
const TRY_AGAIN_MS = 2 * MILLISECONDS_AN_HOUR;
const TRIES_MAX = 80;
const MIXED_SHARE = 0.35;
const NON_FAULTS_PER_SPINDLE = 0.5;

/** All that waited in a sensor, at once; the reading that is due comes behind it. */
function tellKept(stage: Stage, kept: Draft[], due: Draft): void {
  for (const draft of kept) tell(stage, { ...draft, at: stage.now });
  tell(stage, due);
  kept.length = 0;
}

export class LongScenario {
  readonly #stage: Stage;
  readonly #people: People;
  /** Next in `told`. */
  #next = 0;

  constructor(seed: number, days?: number) {
    this.#stage = openStage(seed, days);
    this.#people = new People(this.#stage);
    declarePlant(this.#stage);
    this.#plan();
  }

  get seed(): number {
    return this.#stage.seed;
  }

  get plantId(): string {
    return this.#stage.plantId;
  }

  get labels(): readonly LongLabel[] {
    return this.#stage.labels;
  }

  /** Every load of the plant as it truly was, oldest first. */
  get loads(): readonly WholeLoad[] {
    return this.#stage.loads;
  }

  get nonFaults(): readonly NonFaultLabel[] {
    return this.#stage.nonFaults;
  }

  get days(): number {
    return (this.#stage.until - this.#stage.from) / MILLISECONDS_A_DAY;
  }

  get spindleDays(): number {
    return this.#stage.spindles.length * this.days;
  }

  /** Loads of the whole plant a day, as they are planned. */
  get loadsADay(): number {
    const { spindles, workHours, loadMs } = this.#stage;
    return (spindles.length * workHours * MILLISECONDS_AN_HOUR) / loadMs;
  }

  /** For a person who looks into one of them. */
  get words(): string {
    const { spindles, from, until, intervalMs, benches, assemblies, workHours } = this.#stage;
    const days = Math.round((until - from) / MILLISECONDS_A_DAY);
    return `${spindles.length} spindles, ${days} days of ${workHours} h, a reading every ${intervalMs / 1000} s, ${assemblies.length} assemblies, ${benches.length} benches`;
  }

  /** The next message, act or tick; undefined at the end. */
  next(): Draft | undefined {
    for (;;) {
      const { told, until } = this.#stage;
      const draft = told[this.#next];
      if (draft !== undefined) {
        this.#next += 1;
        return draft;
      }
      if (this.#next > 0) {
        told.length = 0;
        this.#next = 0;
      }
      const reading = this.#step();
      if (this.#stage.now >= until) return undefined;
      if (reading !== undefined) return reading;
    }
  }

  /** What was made of the entry that was handed out last. */
  heard(outcomes: readonly Outcome[]): void {
    this.#people.heard(outcomes);
  }

  /** The next reading, or nothing where something else happened. */
  #step(): Draft | undefined {
    const stage = this.#stage;
    const { spindles, queue, noise } = stage;
    let first = spindles[0];
    for (const spindle of spindles) {
      if (first === undefined || spindle.nextReadingAt < first.nextReadingAt) first = spindle;
    }
    if (first === undefined || queue.nextAt <= first.nextReadingAt) {
      stage.now = queue.nextAt;
      this.#happen(queue.take());
      return undefined;
    }
    const at = first.nextReadingAt;
    first.nextReadingAt = at + stage.intervalMs;
    stage.now = at;
    if (stage.sleepy && !first.works) return undefined;
    const place = spindles[first.feels] ?? first;
    const { kept, silentUntil } = first.sensor;
    if (at >= silentUntil) {
      const reading = readingAt(first, place, { at, prng: noise, remembered: true });
      if (kept === undefined || kept.length === 0) return reading;
      tellKept(stage, kept, reading);
      return undefined;
    }
    // Come late they say nothing of now: no memory holds them.
    if (kept !== undefined && kept.length < KEPT_READINGS_MAX)
      kept.push(readingAt(first, place, { at, prng: noise, remembered: false }));
    return undefined;
  }

  #happen(it: Happening): void {
    const stage = this.#stage;
    switch (it.what) {
      case 'tick':
        tell(stage, { at: stage.now, kind: 'tick' });
        stage.queue.add(stage.now + TICK_MS, it);
        return;
      case 'work-begins':
        return beginWork(stage, it.spindle);
      case 'work-ends':
        return endWork(stage, it.spindle);
      case 'clamp':
        return startLoad(stage, it.spindle);
      case 'segment':
        return nextSegment(stage, it.spindle, it.nth);
      case 'load-ends':
        return stopLoad(stage, it.spindle, it.nth);
      case 'gap':
        return gap(stage, it.spindle);
      case 'back': {
        const assembly = stage.assemblies[it.assembly];
        if (assembly !== undefined) buildAnew(stage, assembly);
        return;
      }
      case 'proof':
        return this.#prove(it);
      case 'fault':
        return this.#plant(it);
      case 'non-fault':
        return nonFault(stage, it.kind);
      case 'looked-into':
        return this.#people.lookInto(it.holdId, it.again);
    }
  }

  #prove(it: Extract<Happening, { what: 'proof' }>): void {
    const stage = this.#stage;
    const bench = stage.benches[it.bench];
    if (bench === undefined) return;
    prove(stage, bench);
    stage.queue.add(stage.now + bench.provesEveryMs, it);
  }

  #plant(it: Extract<Happening, { what: 'fault' }>): void {
    const stage = this.#stage;
    // It comes with whatever is clamped next where it fits.
    if (it.kind === 'chip-under-taper') return void stage.chips.push({ mixed: it.mixed });
    const mixed = it.mixed && stage.active.size > 0;
    const tries = it.tries + 1;
    if (plant(stage, it.kind, mixed) !== undefined || tries > TRIES_MAX) return;
    stage.queue.add(stage.now + TRY_AGAIN_MS, { ...it, tries });
  }

  /** Which faults and changes there will be, and when. */
  #plan(): void {
    const stage = this.#stage;
    const { chance, from, until, queue, spindles } = stage;
    const lengthMs = until - from;
    queue.add(from + TICK_MS, { what: 'tick' });
    if (!chance.chance(NO_FAULT_SHARE)) {
      const most = Math.max(
        2,
        Math.round((lengthMs / MILLISECONDS_A_DAY / DAYS_PER_FAULT) * Math.sqrt(spindles.length / 6)),
      );
      for (let count = chance.whole(1, most); count > 0; count -= 1) {
        const at: Instant = Math.round(from + lengthMs * drawnIn(chance, FAULT_BEGINS_SHARE));
        queue.add(at, {
          what: 'fault',
          kind: chance.pick(chance.pick(FAULT_GROUPS)),
          mixed: chance.chance(MIXED_SHARE),
          tries: 0,
        });
      }
    }
    for (let count = Math.round(NON_FAULTS_PER_SPINDLE * spindles.length); count > 0; count -= 1) {
      const at = Math.round(from + lengthMs * chance.between(FAULT_BEGINS_SHARE[0], 1));
      queue.add(at, { what: 'non-fault', kind: chance.pick(LONG_NON_FAULTS) });
    }
  }
}
