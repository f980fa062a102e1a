// The pairs about a hold as they ran: from the marks of the spindles, each against the line of its spindle at its speed.
import type { Cause } from '../../../shared/causes.ts';
import type { Hold } from '../../../shared/holds.ts';
import {
  TRAVELS_ASSEMBLIES_MAX,
  TRAVELS_SPINDLES_MAX,
  type TravelCell,
  type Travels,
} from '../../../shared/travels.ts';
import type { ResponsePoint } from '../../../shared/views.ts';
import { responseExpectedMmS, type Floor, type SpindleState } from '../../rules/index.ts';
import { defined } from './defined.ts';

/** Undefined where the hold is about no spindle and no assembly. */
export function travelsView(floor: Floor, hold: Hold): Travels | undefined {
  const { assemblyId, spindleId } = aboutOf(floor, hold);
  if (assemblyId === undefined && spindleId === undefined) return undefined;
  const ended = hold.state === 'released' || hold.state === 'void' ? (hold.steps.at(-1)?.at ?? Infinity) : Infinity;
  const spindles = spindlesAbout(floor, assemblyId, spindleId);
  const assemblies = assembliesAbout(floor, assemblyId, spindleId);
  const cells = spindles.flatMap((id) => {
    const spindle = floor.spindles.get(id);
    return spindle === undefined ? [] : cellsOf(spindle, assemblies, ended);
  });
  return {
    holdId: hold.holdId,
    spindles,
    assemblies,
    cells: withFinding(cells, hold, assemblyId),
    suspects: suspectsOf(hold, { assemblyId, spindleId }),
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

function cellsOf(spindle: SpindleState, assemblies: readonly string[], until: number): TravelCell[] {
  const newest = new Map<string, { point: ResponsePoint; loads: Set<number> }>();
  for (const bin of spindle.live.bins.values()) {
    for (const point of bin.points) {
      if (point.at > until || !assemblies.includes(point.assemblyId)) continue;
      const known = newest.get(point.assemblyId);
      const loads = (known?.loads ?? new Set<number>()).add(point.loadOrdinal);
      newest.set(point.assemblyId, {
        point: known === undefined || point.at > known.point.at ? point : known.point,
        loads,
      });
    }
  }
  return [...newest.values()].map(({ point, loads }) => ({
    spindleId: spindle.spindleId,
    assemblyId: point.assemblyId,
    loads: loads.size,
    at: point.at,
    speedRpm: point.speedRpm,
    observedMmS: point.synchronousMmS,
    residualGmm: point.residualGmm,
    ...defined({ expectedMmS: responseExpectedMmS(spindle, point.speedBin, point.residualGmm) }),
  }));
}

/** Of what led to the hold nothing is kept among the marks; its finding says how it ran. */
function withFinding(cells: readonly TravelCell[], { findings }: Hold, assemblyId: string | undefined): TravelCell[] {
  const finding = findings?.at(-1);
  if (finding === undefined || assemblyId === undefined) return [...cells];
  const { spindleId, at, speedRpm, observedMmS, expectedMmS } = finding;
  const isHeld = (cell: TravelCell): boolean => cell.spindleId === spindleId && cell.assemblyId === assemblyId;
  const loads = cells.find(isHeld)?.loads ?? 1;
  const held = { spindleId, assemblyId, loads, at, speedRpm, observedMmS, ...defined({ expectedMmS }) };
  return [...cells.filter((cell) => !isHeld(cell)), held];
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
