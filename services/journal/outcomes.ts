// What the rules made of a stretch, as bytes and back: the features of readings in columns, the rest as JSON.
import type { Position } from '../../shared/entries.ts';
import type { NotComparableReason, Outcome, ReadingFeatures } from '../../shared/outcomes.ts';
import { ByteReader, ByteWriter } from './bytes.ts';
import { readDoubles, readIntegers, readSmall, writeDoubles, writeIntegers, writeSmall } from './columns.ts';

const FORMAT = 1;

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
  whole.count(outcomes.length);
  whole.text(others.length === 0 ? '' : JSON.stringify({ places, others } satisfies OutcomeWords));
  writeFeatures(whole, featured, first);
  return whole.taken();
}

export function decodeOutcomes(bytes: Uint8Array, first: Position): readonly Outcome[] {
  const from = new ByteReader(bytes);
  if (from.byte() !== FORMAT)
    throw new Error(`the outcomes at position ${first} have a format that this release does not know`);
  const count = from.count();
  const text = from.text();
  const words = text === '' ? { places: [], others: [] } : (JSON.parse(text) as OutcomeWords);
  const featured = readFeatures(from, count - words.others.length, first);
  if (words.others.length === 0) return featured;
  const outcomes: Outcome[] = [];
  let next = 0;
  let nextFeatured = 0;
  for (let i = 0; i < count; i += 1) {
    const outcome = words.places[next] === i ? words.others[next++] : featured[nextFeatured++];
    if (outcome === undefined) throw new Error(`the outcomes at position ${first} are not all there`);
    outcomes.push(outcome);
  }
  return outcomes;
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

function readFeatures(from: ByteReader, count: number, first: Position): Featured[] {
  const steps = readIntegers(from, count);
  const bins = readIntegers(from, count);
  const loads = readIntegers(from, count);
  const said = readSmall(from, count);
  const residuals = readDoubles(from, from.count());
  const expected = readDoubles(from, from.count());
  const featured: Featured[] = [];
  let nextResidual = 0;
  let nextExpected = 0;
  let cause = first;
  for (let i = 0; i < count; i += 1) {
    const flags = said[i] ?? 0;
    cause += steps[i] ?? 0;
    const features: { -readonly [K in keyof ReadingFeatures]: ReadingFeatures[K] } = {
      speedBin: bins[i] ?? 0,
      loadOrdinal: loads[i] ?? 0,
      comparable: (flags & COMPARABLE) !== 0,
    };
    const reason = REASONS[flags >> REASON_SHIFT];
    if (reason !== undefined) features.notComparable = reason;
    if ((flags & HAS_RESIDUAL) !== 0) features.residualGmm = residuals[nextResidual++] ?? 0;
    if ((flags & HAS_EXPECTED) !== 0) features.expectedMmS = expected[nextExpected++] ?? 0;
    featured.push({ cause, kind: 'reading-features', features });
  }
  return featured;
}
