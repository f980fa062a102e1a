// Who is told everything but the cause: since when, how much, all true parameters. What it cannot tell apart nobody can.
import { NAMED_FROM, type Cause } from '../../../shared/causes.ts';
import { expectedSquare, factorOf, type LongLabel, type Turning, type WholeLoad } from '../../../simulators/index.ts';
import { logDensity, seenIn, type Seen } from './likelihood.ts';

export interface InformedCause {
  readonly isNamed: boolean;
  readonly isRight: boolean;
}

/** The causes that the loads of one place decide between; the others show in a sensor, in the broadband part, or on a bench. */
const OF_ONE_PLACE = ['assembly', 'spindle', 'clamping', 'drawbar'] as const satisfies readonly Cause[];
type PlaceCause = (typeof OF_ONE_PLACE)[number];

const LOADS_LOOKED_AT_MAX = 120;
const ANGLES = 12;

interface Weighed {
  readonly load: WholeLoad['load'];
  readonly seen: Seen;
  readonly without: Turning;
  readonly truly: Turning;
}

/** Of each other cause the same size, at once, at an angle that is not known; of the true one its course and angle as they were: never worse than it could be. */
export function informedCause(label: LongLabel, all: readonly WholeLoad[]): InformedCause | undefined {
  const cause = OF_ONE_PLACE.find((it) => it === label.cause);
  const [first] = label.loads;
  const factor = factorOf(label);
  if (cause === undefined || first === undefined || factor === undefined) return undefined;
  const moreSquare = Math.max(0, (factor * factor - 1) * expectedSquare(first.without, first.load.keyed));
  const loads = weighedOf(label, first.load, all);
  const place: Place = { load: first.load, moreSquare, clampingGmm: first.without.clampingGmm };
  const logs = OF_ONE_PLACE.map((other) =>
    other === cause ? sumOf(loads, ({ truly }) => truly) : likelihoodOf(loads, other, place),
  );
  const most = Math.max(...logs);
  const whole = logs.reduce((sum, log) => sum + Math.exp(log - most), 0);
  return { isNamed: 1 / whole >= NAMED_FROM, isRight: logs[OF_ONE_PLACE.indexOf(cause)] === most };
}

/** All loads of the spindle and of the assembly of the first affected load while the fault goes on. */
function weighedOf(label: LongLabel, first: WholeLoad['load'], all: readonly WholeLoad[]): readonly Weighed[] {
  const affected = new Map(label.loads.map((one) => [one.load, one]));
  const until = Math.max(label.to, first.until);
  const isOfPlace = ({ load: { at, readings, spindleId, assemblyId } }: WholeLoad): boolean =>
    readings > 0 && at >= first.at && at <= until && (spindleId === first.spindleId || assemblyId === first.assemblyId);
  return all
    .filter(isOfPlace)
    .slice(0, LOADS_LOOKED_AT_MAX)
    .map(({ load, turning }) => {
      const one = affected.get(load);
      return { load, seen: seenIn(load), without: one?.without ?? turning, truly: one?.with ?? turning };
    });
}

interface Place {
  readonly load: WholeLoad['load'];
  /** By what the square of the 1× grew, (g·mm)². */
  readonly moreSquare: number;
  readonly clampingGmm: number;
}

function likelihoodOf(loads: readonly Weighed[], cause: PlaceCause, place: Place): number {
  switch (cause) {
    case 'assembly':
      return overAngles((angle) => sumOf(loads, (one) => assemblyTurned(one, place, angle)));
    case 'spindle':
      return overAngles((angle) => sumOf(loads, (one) => spindleTurned(one, place, angle)));
    case 'clamping':
      return sumOf(loads, ({ load, without }) =>
        load === place.load ? { ...without, strayGmm: Math.sqrt(place.moreSquare) } : without,
      );
    case 'drawbar':
      return sumOf(loads, (one) => clampingScattered(one, place));
  }
}

function sumOf(loads: readonly Weighed[], turningOf: (one: Weighed) => Turning): number {
  let sum = 0;
  for (const one of loads) {
    const turning = turningOf(one);
    // What a cause does not touch is as likely under all of them; the difference is what counts.
    if (turning !== one.without)
      sum +=
        logDensity({ load: one.load, turning }, one.seen) -
        logDensity({ load: one.load, turning: one.without }, one.seen);
  }
  return sum;
}

/** Logarithm of the mean over all angles. */
function overAngles(logAt: (angle: number) => number): number {
  const logs = Array.from({ length: ANGLES }, (_, nth) => logAt((2 * Math.PI * nth) / ANGLES));
  const most = Math.max(...logs);
  return most + Math.log(logs.reduce((sum, log) => sum + Math.exp(log - most), 0) / ANGLES);
}

function assemblyTurned({ load, without }: Weighed, place: Place, angle: number): Turning {
  if (load.buildId !== place.load.buildId) return without;
  const amount = Math.sqrt(without.residualX ** 2 + without.residualY ** 2 + place.moreSquare);
  return { ...without, residualX: amount * Math.cos(angle), residualY: amount * Math.sin(angle) };
}

function spindleTurned({ load, without }: Weighed, place: Place, angle: number): Turning {
  if (load.spindleId !== place.load.spindleId) return without;
  const amount = Math.sqrt(without.ownX ** 2 + without.ownY ** 2 + place.moreSquare);
  return { ...without, ownX: amount * Math.cos(angle), ownY: amount * Math.sin(angle) };
}

/** The same micrometres more, whatever the mass. */
function clampingScattered({ load, without }: Weighed, place: Place): Turning {
  if (load.spindleId !== place.load.spindleId) return without;
  const times = Math.sqrt(1 + place.moreSquare / place.clampingGmm ** 2);
  return { ...without, clampingGmm: without.clampingGmm * times };
}
