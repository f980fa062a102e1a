// What the rules made of a stretch, as bytes and back: the features of readings in columns, the rest as JSON.
import type { Position } from '../../shared/entries.ts';
import {
  NOT_COMPARABLE_REASONS,
  type NotComparableReason,
  type Outcome,
  type ReadingFeatures,
} from '../../shared/outcomes.ts';
import { ByteReader, ByteWriter } from './bytes.ts';
import {
  readDoubles,
  readIntegers,
  readSmall,
  skipIntegers,
  writeDoubles,
  writeIntegers,
  writeSmall,
} from './columns.ts';

const FORMAT = 1;

const NOT_ORDERED = 0;
const ORDERED = 1;

const COMPARABLE = 1;
const HAS_RESIDUAL = 2;
const HAS_EXPECTED = 4;
const REASON_SHIFT = 3;

/** Codes in stored blocks: a new reason takes the next number, none is ever used again. */
const REASON_CODES: Readonly<Record<NotComparableReason, number>> = {
  cutting: 1,
  unsteady: 2,
  'sensor-fault': 3,
  standstill: 4,
  'nothing-loaded': 5,
  late: 6,
  'no-synchronous': 7,
  'on-hold': 8,
  cold: 9,
  'wrong-speed': 10,
  'planned-work': 11,
};
const REASONS: (NotComparableReason | undefined)[] = [];
for (const [reason, code] of Object.entries(REASON_CODES)) REASONS[code] = reason as NotComparableReason;

type Featured = Extract<Outcome, { kind: 'reading-features' }>;
type OtherOutcome = Exclude<Outcome, Featured>;

/** Outcomes that are not features, each with its place among all. JSON keeps no negative zero. */
interface OutcomeWords {
  readonly places: readonly number[];
  readonly others: readonly OtherOutcome[];
}

const NO_WORDS: OutcomeWords = { places: [], others: [] };

const whole = new ByteWriter();

export function encodeOutcomes(outcomes: readonly Outcome[], first: Position): Buffer | undefined {
  if (outcomes.length === 0) return undefined;
  const featured: Featured[] = [];
  const places: number[] = [];
  const others: OtherOutcome[] = [];
  outcomes.forEach((outcome, i) => {
    if (outcome.kind === 'reading-features') {
      featured.push(outcome);
    } else {
      places.push(i);
      others.push(outcome);
    }
  });
  whole.clear();
  whole.byte(FORMAT);
  whole.byte(inOrder(outcomes) ? ORDERED : NOT_ORDERED);
  whole.count(outcomes.length);
  whole.text(others.length === 0 ? '' : JSON.stringify({ places, others } satisfies OutcomeWords));
  writeFeatures(whole, featured, first);
  return whole.taken();
}

export function decodeOutcomes(bytes: Uint8Array, first: Position): readonly Outcome[] {
  return new OutcomeReader(bytes, first).takeThrough(Number.POSITIVE_INFINITY);
}

/** Gives a block's outcomes as far as their causes go. */
export class OutcomeReader {
  /** Whether causes never go back in it: only then do outcomes come with the entries that caused them. */
  readonly ordered: boolean;
  readonly #count: number;
  readonly #words: OutcomeWords;
  readonly #features: FeatureReader;
  #place = 0;
  #others = 0;

  constructor(bytes: Uint8Array, first: Position) {
    const from = new ByteReader(bytes);
    if (from.byte() !== FORMAT) {
      throw new Error(`the outcomes at position ${first} have a format that this release does not know`);
    }
    this.ordered = from.byte() === ORDERED;
    this.#count = from.count();
    const text = from.text();
    this.#words = text === '' ? NO_WORDS : (JSON.parse(text) as OutcomeWords);
    this.#features = new FeatureReader(from, this.#count - this.#words.others.length, first);
  }

  takeThrough(position: Position): Outcome[] {
    const taken: Outcome[] = [];
    const { places, others } = this.#words;
    for (; this.#place < this.#count; this.#place += 1) {
      if (places[this.#others] !== this.#place) {
        if (this.#features.nextCause() > position) break;
        taken.push(this.#features.take());
        continue;
      }
      const outcome = others[this.#others];
      if (outcome === undefined) throw new Error('a block of outcomes does not hold all of them');
      if (outcome.cause > position) break;
      taken.push(outcome);
      this.#others += 1;
    }
    return taken;
  }
}

/** The same without an object for each of the features: why each reading cannot be compared, by its place in the stretch. */
export class OutcomeColumns {
  readonly #from: ByteReader;

  constructor(bytes: Uint8Array, first: Position) {
    this.#from = new ByteReader(bytes);
    if (this.#from.byte() !== FORMAT)
      throw new Error(`the outcomes at position ${first} have a format that this release does not know`);
  }

  /** Writes 0 for comparable or the place of the reason, counted from 1, into `reasons`; gives back all other outcomes. */
  read(reasons: Uint8Array): readonly OtherOutcome[] {
    const from = this.#from;
    from.byte();
    const total = from.count();
    const text = from.text();
    const { others } = text === '' ? NO_WORDS : (JSON.parse(text) as OutcomeWords);
    const count = total - others.length;
    const steps = readIntegers(from, count);
    skipIntegers(from, count);
    skipIntegers(from, count);
    const said = readSmall(from, count);
    let place = 0;
    for (let i = 0; i < count; i += 1) {
      place += steps[i] ?? 0;
      reasons[place] = PLACE_OF_CODE[(said[i] ?? 0) >> REASON_SHIFT] ?? 0;
    }
    return others;
  }
}

/** By the code in a stored block, the place in the list of reasons, counted from 1. */
const PLACE_OF_CODE: readonly number[] = Array.from(
  REASONS,
  (reason) => 1 + (reason === undefined ? -1 : NOT_COMPARABLE_REASONS.indexOf(reason)),
);

function inOrder(outcomes: readonly Outcome[]): boolean {
  let before = 0;
  for (const { cause } of outcomes) {
    if (cause < before) return false;
    before = cause;
  }
  return true;
}

function writeFeatures(to: ByteWriter, featured: readonly Featured[], first: Position): void {
  const count = featured.length;
  const steps = new Float64Array(count);
  const bins = new Float64Array(count);
  const loads = new Float64Array(count);
  const said = new Uint8Array(count);
  const residuals = new Float64Array(count);
  const expected = new Float64Array(count);
  let residualCount = 0;
  let expectedCount = 0;
  let before = first;
  for (let i = 0; i < count; i += 1) {
    const outcome = featured[i];
    if (outcome === undefined) continue;
    const { features } = outcome;
    steps[i] = outcome.cause - before;
    before = outcome.cause;
    bins[i] = features.speedBin;
    loads[i] = features.loadOrdinal;
    let flags = features.comparable ? COMPARABLE : 0;
    if (features.notComparable !== undefined) flags |= REASON_CODES[features.notComparable] << REASON_SHIFT;
    if (features.residualGmm !== undefined) {
      flags |= HAS_RESIDUAL;
      residuals[residualCount++] = features.residualGmm;
    }
    if (features.expectedMmS !== undefined) {
      flags |= HAS_EXPECTED;
      expected[expectedCount++] = features.expectedMmS;
    }
    said[i] = flags;
  }
  writeIntegers(to, steps, count);
  writeIntegers(to, bins, count);
  writeIntegers(to, loads, count);
  writeSmall(to, said, count);
  to.count(residualCount);
  writeDoubles(to, residuals, residualCount);
  to.count(expectedCount);
  writeDoubles(to, expected, expectedCount);
}

class FeatureReader {
  readonly #steps: Float64Array;
  readonly #bins: Float64Array;
  readonly #loads: Float64Array;
  readonly #said: Uint8Array;
  readonly #residuals: Float64Array;
  readonly #expected: Float64Array;
  #next = 0;
  #nextResidual = 0;
  #nextExpected = 0;
  #cause: Position;

  constructor(from: ByteReader, count: number, first: Position) {
    this.#steps = readIntegers(from, count);
    this.#bins = readIntegers(from, count);
    this.#loads = readIntegers(from, count);
    this.#said = readSmall(from, count);
    this.#residuals = readDoubles(from, from.count());
    this.#expected = readDoubles(from, from.count());
    this.#cause = first;
  }

  nextCause(): Position {
    return this.#cause + (this.#steps[this.#next] ?? Number.NaN);
  }

  take(): Featured {
    const i = this.#next;
    const flags = this.#said[i] ?? 0;
    const features: { -readonly [K in keyof ReadingFeatures]: ReadingFeatures[K] } = {
      speedBin: this.#bins[i] ?? 0,
      loadOrdinal: this.#loads[i] ?? 0,
      comparable: (flags & COMPARABLE) !== 0,
    };
    const reason = REASONS[flags >> REASON_SHIFT];
    if (reason !== undefined) features.notComparable = reason;
    if ((flags & HAS_RESIDUAL) !== 0) features.residualGmm = this.#residuals[this.#nextResidual++] ?? 0;
    if ((flags & HAS_EXPECTED) !== 0) features.expectedMmS = this.#expected[this.#nextExpected++] ?? 0;
    const cause = this.nextCause();
    this.#cause = cause;
    this.#next = i + 1;
    return { cause, kind: 'reading-features', features };
  }
}
