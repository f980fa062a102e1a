// The pairs about a hold as they ran: from the marks of the spindles, each against the line of its spindle at its speed.
import type { Cause, CauseFinding } from '../../../shared/causes.ts';
import { isOpen, type Hold } from '../../../shared/holds.ts';
import {
  TRAVELS_ASSEMBLIES_MAX,
  TRAVELS_SPINDLES_MAX,
  type TravelCell,
  type Travels,
} from '../../../shared/travels.ts';
import { responseExpectedMmS, type Floor, type SpindleState } from '../../rules/index.ts';
import { defined } from './defined.ts';

/** Undefined where the hold is about no spindle and no assembly. */
export function travelsView(floor: Floor, hold: Hold): Travels | undefined {
  const { assemblyId, spindleId } = aboutOf(floor, hold);
  if (assemblyId === undefined && spindleId === undefined) return undefined;
  const ended = isOpen(hold) ? Infinity : (hold.steps.at(-1)?.at ?? Infinity);
  const spindles = spindlesAbout(floor, assemblyId, spindleId);
  const assemblies = assembliesAbout(floor, assemblyId, spindleId);
  const ran = spindles.flatMap((id) => {
    const spindle = floor.spindles.get(id);
    return spindle === undefined ? [] : loadsRan(floor, spindle);
  });
  // A weighing comes last: of one load its figures are those that the page tells.
  const about = [...ran, ...weighedIn(floor, hold)].filter(
    (one) => one.at <= ended && assemblies.includes(one.assemblyId) && spindles.includes(one.spindleId),
  );
  return {
    holdId: hold.holdId,
    spindles,
    assemblies,
    cells: newestOfPairs(about),
    suspects: suspectsOf(hold, { assemblyId, spindleId }),
    ...defined({ since: hold.findings?.at(-1)?.since }),
  };
}

interface About {
  readonly assemblyId: string | undefined;
  readonly spindleId: string | undefined;
}

function aboutOf(floor: Floor, { subject, evidence, findings }: Hold): About {
  const assemblyId = evidence.assemblyId ?? (subject.kind === 'assembly' ? subject.id : undefined);
  const found = findings?.at(-1)?.spindleId;
  const loadedIn = assemblyId === undefined ? undefined : floor.assemblies.get(assemblyId)?.loadedIn;
  const spindleId = evidence.spindleId ?? (subject.kind === 'spindle' ? subject.id : (found ?? loadedIn));
  return { assemblyId, spindleId };
}

/** The held one, then those in which its assembly ran, the newest loads first; in the order of their names. */
function spindlesAbout(floor: Floor, assemblyId: string | undefined, spindleId: string | undefined): string[] {
  const loads = assemblyId === undefined ? [] : (floor.assemblies.get(assemblyId)?.loads ?? []);
  return firstThenNamed(spindleId, loads.map((load) => load.spindleId).toReversed(), TRAVELS_SPINDLES_MAX);
}

function assembliesAbout(floor: Floor, assemblyId: string | undefined, spindleId: string | undefined): string[] {
  const loads = spindleId === undefined ? [] : (floor.spindles.get(spindleId)?.loads ?? []);
  return firstThenNamed(assemblyId, loads.map((load) => load.assemblyId).toReversed(), TRAVELS_ASSEMBLIES_MAX);
}

function firstThenNamed(first: string | undefined, others: readonly string[], most: number): string[] {
  const room = first === undefined ? most : most - 1;
  const kept = [...new Set(others)].filter((id) => id !== first).slice(0, room);
  return [...(first === undefined ? [] : [first]), ...kept.toSorted((a, b) => (a < b ? -1 : 1))];
}

/** A load of a pair as it ran. */
interface RanLoad {
  readonly spindleId: string;
  readonly assemblyId: string;
  readonly ordinal: number;
  readonly at: number;
  readonly speedRpm: number;
  readonly observedMmS: number;
  readonly expectedMmS: number | undefined;
  readonly residualGmm: number | undefined;
  /** As a weighing tells it, whatever was read of the load afterwards. */
  readonly isWeighed: boolean;
}

/** Sound loads are among the points of the line; those seen under a hold only among the marks, for nothing is learned from them. */
function loadsRan(floor: Floor, spindle: SpindleState): RanLoad[] {
  const { spindleId } = spindle;
  const points = [...spindle.live.bins.values()].flatMap((bin) =>
    bin.points.map((point): RanLoad => ({
      spindleId,
      assemblyId: point.assemblyId,
      ordinal: point.loadOrdinal,
      at: point.at,
      speedRpm: point.speedRpm,
      observedMmS: point.synchronousMmS,
      expectedMmS: expectedOf(spindle, point.speedBin, point.residualGmm),
      residualGmm: point.residualGmm,
      isWeighed: false,
    })),
  );
  const marks = (floor.relating.get(spindleId)?.marks ?? [])
    .filter((mark) => mark.held && mark.readings >= READINGS_LEAST)
    .map((mark): RanLoad => ({
      spindleId,
      assemblyId: mark.assemblyId,
      ordinal: mark.ordinal,
      at: mark.at,
      speedRpm: mark.speedRpm,
      observedMmS: Math.sqrt(mark.square),
      expectedMmS: expectedOf(spindle, mark.bin, mark.residualGmm),
      residualGmm: mark.residualGmm,
      isWeighed: false,
    }));
  return [...points, ...marks];
}

const expectedOf = (spindle: SpindleState, bin: number, residualGmm: number | undefined): number | undefined =>
  residualGmm === undefined ? undefined : responseExpectedMmS(spindle, bin, residualGmm);

/** What one reading showed is no load yet. */
const READINGS_LEAST = 2;

/** Of each pair its newest load, and how many are remembered. */
function newestOfPairs(ran: readonly RanLoad[]): TravelCell[] {
  const pairs = new Map<string, RanLoad[]>();
  const inOrder = (a: RanLoad, b: RanLoad): number =>
    a.ordinal - b.ordinal || Number(a.isWeighed) - Number(b.isWeighed) || a.at - b.at;
  for (const one of ran.toSorted(inOrder)) {
    const pair = `${one.spindleId} ${one.assemblyId}`;
    pairs.set(pair, [...(pairs.get(pair) ?? []), one]);
  }
  return [...pairs.values()].flatMap((loads) => {
    const newest = loads.at(-1);
    if (newest === undefined) return [];
    const { ordinal, spindleId, assemblyId, at, speedRpm, observedMmS, expectedMmS } = newest;
    const residualGmm = loads.find((one) => one.ordinal === ordinal && one.residualGmm !== undefined)?.residualGmm;
    const remembered = new Set(loads.map((one) => one.ordinal)).size;
    return [
      { spindleId, assemblyId, loads: remembered, at, speedRpm, observedMmS, ...defined({ expectedMmS, residualGmm }) },
    ];
  });
}

/** Its own weighings, after those of a hold that has moved to it: the same vibration. */
function findingsAbout({ holds }: Floor, hold: Hold): readonly CauseFinding[] {
  const before = [...holds.values()].filter(({ steps }) => steps.at(-1)?.movedTo === hold.holdId);
  return [...before, hold].flatMap(({ findings }) => findings ?? []);
}

/**
 * The load whose figures a weighing tells: the last that had shown something in that spindle by then, whichever load gave reason to
 * weigh. What an ended hold was about is no longer among the marks: then the last that had been clamped.
 */
function weighedIn(floor: Floor, hold: Hold): RanLoad[] {
  return findingsAbout(floor, hold).flatMap(({ spindleId, position, at, speedRpm, observedMmS, expectedMmS }) => {
    const shown = new Set(floor.relating.get(spindleId)?.marks.map(({ ordinal }) => ordinal));
    const load = floor.spindles
      .get(spindleId)
      ?.loads.findLast((one) => one.position < position && (isOpen(hold) ? shown.has(one.ordinal) : one.ordinal > 0));
    if (load === undefined) return [];
    const { assemblyId, ordinal } = load;
    const told = { spindleId, assemblyId, ordinal, at, speedRpm, observedMmS, expectedMmS };
    return [{ ...told, residualGmm: undefined, isWeighed: true }];
  });
}

/** Causes that are a row or a column of the picture. */
const IN_COLUMN: ReadonlySet<Cause> = new Set(['spindle', 'drawbar', 'bearing', 'sensor', 'resonance', 'clamping']);

function suspectsOf({ findings, subject }: Hold, { assemblyId, spindleId }: About): Travels['suspects'] {
  const finding = findings?.at(-1);
  const shares = (finding?.shares ?? []).filter(({ probability }) => probability >= SUSPECT_FROM);
  const inColumn =
    shares.some(({ cause }) => IN_COLUMN.has(cause)) || (finding === undefined && subject.kind === 'spindle');
  const inRow =
    shares.some(({ cause }) => cause === 'assembly' || cause === 'clamping') ||
    (finding === undefined && subject.kind === 'assembly');
  return {
    spindles: inColumn && spindleId !== undefined ? [spindleId] : [],
    assemblies: inRow && assemblyId !== undefined ? [assemblyId] : [],
  };
}

/** One in five: less likely than that, it is not pointed at. Common practice, no source. */
const SUSPECT_FROM = 0.2;
