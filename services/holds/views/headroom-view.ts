// What is given away by running slower than programmed: a row for each spindle, the speeds that bound it, and what the hours cost.
import {
  HEADROOM_DAYS_MAX,
  type HeadroomProgram,
  type HeadroomRow,
  type HeadroomView,
  type OverrideKeptView,
  type RatesView,
  type SpeedBound,
} from '../../../shared/headroom.ts';
import { moneyOfHours, NOT_DECLARED, overrideKeptWords } from '../../../shared/headroom-words.ts';
import { isOpen } from '../../../shared/holds.ts';
import { MILLISECONDS_A_DAY, MILLISECONDS_AN_HOUR, type Instant } from '../../../shared/time.ts';
import {
  baseLayer,
  currentBuild,
  DAY_SUMS,
  dayOf,
  keptNow,
  measurementInForceOf,
  suspicionOf,
  weekBegins,
  type Floor,
  type HeadroomState,
  type RatesState,
  type SpindleState,
} from '../../rules/index.ts';
import { defined } from './defined.ts';
import { cutterLifeViews } from './tool-life-view.ts';

/** Of a spindle, those that were cut longest; more would make the answer of thousands of spindles large and say little. */
const PROGRAMS_SHOWN_MAX = 6;
/** A programmed speed nearer to what is allowed leaves nothing that anybody would program (common practice, no source). */
const COULD_SHARE_MIN = 0.01;

const hours = (ms: number): number => ms / MILLISECONDS_AN_HOUR;

/** Of the last days up to now, today included. */
export function headroomView(floor: Floor, now: Instant, days: number): HeadroomView {
  const asked = Math.min(HEADROOM_DAYS_MAX, Math.max(1, Math.trunc(days)));
  const firstDay = dayOf(now) - asked + 1;
  const held = heldSubjects(floor);
  const rows = [...floor.spindles.values()].map((spindle) => rowOf(floor, spindle, { firstDay, held }));
  const spindles = rows.toSorted((a, b) => b.awayHours - a.awayHours || b.cutHours - a.cutHours || order(a, b));
  const sum = (of: (row: HeadroomRow) => number): number => rows.reduce((all, row) => all + of(row), 0);
  const awayHours = sum((row) => row.awayHours);
  return {
    from: firstDay * MILLISECONDS_A_DAY,
    to: now,
    days: asked,
    spindles,
    cutHours: sum((row) => row.cutHours),
    awayHours,
    cutters: cutterLifeViews(floor),
    ...defined({
      since: since(floor, firstDay),
      money: moneyOfHours(awayHours, floor.rates),
      rates: ratesView(floor.rates),
    }),
  };
}

/** Spindles and assemblies that an open hold is about, or suspects: nobody is told that these could turn faster. */
function heldSubjects(floor: Floor): ReadonlySet<string> {
  const held = new Set<string>();
  const layer = baseLayer(floor);
  for (const hold of floor.holds.values()) {
    if (!isOpen(hold)) continue;
    held.add(hold.subject.id);
    for (const { cause, of } of hold.findings?.at(-1)?.shares ?? []) {
      const assembly = cause === 'assembly' ? floor.assemblies.get(of) : undefined;
      if (assembly === undefined) continue;
      if (suspicionOf(layer, assembly, measurementInForceOf(assembly)?.position ?? 0) !== undefined) held.add(of);
    }
  }
  return held;
}

interface Asked {
  readonly firstDay: number;
  readonly held: ReadonlySet<string>;
}

const order = (a: HeadroomRow, b: HeadroomRow): number => (a.spindleId < b.spindleId ? -1 : 1);

/** Of days on which nothing was counted yet nothing is said; undefined where there is no day at all. */
function since({ headroom }: Floor, firstDay: number): Instant | undefined {
  if (headroom.size === 0) return undefined;
  const first = [...headroom.values()].reduce(
    (least, one) => Math.min(least, firstDayOf(one)),
    Number.POSITIVE_INFINITY,
  );
  return Math.max(firstDay, first) * MILLISECONDS_A_DAY;
}

const firstDayOf = ({ days, day }: HeadroomState): number => days[0] ?? day;

/** A week that began before anything was counted is not counted from its beginning. */
function programsSince(headroom: HeadroomState | undefined): Instant | undefined {
  const [first] = headroom?.programs ?? [];
  if (headroom === undefined || first === undefined) return undefined;
  return Math.max(weekBegins(first.week), firstDayOf(headroom) * MILLISECONDS_A_DAY);
}

export function ratesView(rates: RatesState | undefined): RatesView | undefined {
  if (rates === undefined) return undefined;
  const { position: _position, ...view } = rates;
  return view;
}

function rowOf(floor: Floor, spindle: SpindleState, { firstDay, held }: Asked): HeadroomRow {
  const { spindleId, declaration, loaded, machine } = spindle;
  const headroom = floor.headroom.get(spindleId);
  const [cutMs, reducedMs, awayMs, untoldMs] = sumsSince(headroom, firstDay);
  const programs = programsOf(floor, spindle, headroom, held);
  const could = programs.flatMap(({ couldHours }) => couldHours ?? []);
  const bounds =
    loaded === undefined ? boundsOf(floor, spindle, undefined) : boundsOf(floor, spindle, loaded.assemblyId);
  return {
    spindleId,
    machine: declaration?.machine ?? NOT_DECLARED,
    cell: declaration?.cell ?? NOT_DECLARED,
    now: {
      ...bounds,
      ...defined({
        assemblyId: loaded?.assemblyId,
        programmedRpm: machine?.programmedSpeedRpm,
        actualRpm: machine?.actualSpeedRpm,
        overridePercent: machine?.overridePercent,
      }),
    },
    cutHours: hours(cutMs),
    reducedHours: hours(reducedMs),
    awayHours: hours(awayMs),
    untoldHours: hours(untoldMs),
    programs: programs.slice(0, PROGRAMS_SHOWN_MAX),
    ...defined({
      programsSince: programsSince(headroom),
      couldHours: could.length === 0 ? undefined : could.reduce((all, one) => all + one, 0),
      money: moneyOfHours(hours(awayMs), floor.rates),
      kept: overrideKeptView(floor, spindleId),
    }),
  };
}

/** Absent where no override is kept down. */
export function overrideKeptView(floor: Floor, spindleId: string): OverrideKeptView | undefined {
  const headroom = floor.headroom.get(spindleId);
  const kept = headroom === undefined ? undefined : keptNow(headroom);
  return kept === undefined ? undefined : { ...kept, words: overrideKeptWords(kept) };
}

type Sums = readonly [cutMs: number, reducedMs: number, awayMs: number, untoldMs: number];

function sumsSince(headroom: HeadroomState | undefined, firstDay: number): Sums {
  if (headroom === undefined) return [0, 0, 0, 0];
  const sums: [number, number, number, number] = [0, 0, 0, 0];
  for (const [index, day] of headroom.days.entries()) {
    if (day < firstDay) continue;
    for (let nth = 0; nth < DAY_SUMS; nth += 1)
      sums[nth] = (sums[nth] ?? 0) + (headroom.sums[index * DAY_SUMS + nth] ?? 0);
  }
  if (headroom.day < firstDay) return sums;
  const { cutMs, reducedMs, awayMs, untoldMs } = headroom;
  return [sums[0] + cutMs, sums[1] + reducedMs, sums[2] + awayMs, sums[3] + untoldMs];
}

type Bounds = Pick<HeadroomProgram, 'balanceUpToRpm' | 'markedRpm' | 'maximumRpm'>;

/** As they are known today, of the assembly's newest build. */
function boundsOf({ assemblies }: Floor, { declaration }: SpindleState, assemblyId: string | undefined): Bounds {
  const assembly = assemblyId === undefined ? undefined : assemblies.get(assemblyId);
  return defined({
    balanceUpToRpm: assembly === undefined ? undefined : measurementInForceOf(assembly)?.judgement.shownUpToRpm,
    markedRpm: assembly === undefined ? undefined : currentBuild(assembly)?.lowestMarkedRpm,
    maximumRpm: declaration?.maxSpeedRpm,
  });
}

/** Each assembly at each speed over the weeks that are kept; most cut first. */
function programsOf(
  floor: Floor,
  spindle: SpindleState,
  headroom: HeadroomState | undefined,
  held: ReadonlySet<string>,
): HeadroomProgram[] {
  const byProgram = new Map<string, { assemblyId: string; rpm: number; cut: number; reduced: number; away: number }>();
  for (const { assemblyId, programmedRpm, cutMs, reducedMs, awayMs } of headroom?.programs ?? []) {
    const key = `${programmedRpm} ${assemblyId}`;
    const sums = byProgram.get(key) ?? { assemblyId, rpm: programmedRpm, cut: 0, reduced: 0, away: 0 };
    sums.cut += cutMs;
    sums.reduced += reducedMs;
    sums.away += awayMs;
    byProgram.set(key, sums);
  }
  return [...byProgram.values()]
    .toSorted((a, b) => b.cut - a.cut)
    .map(({ assemblyId, rpm, cut, reduced, away }) => {
      const bounds = boundsOf(floor, spindle, assemblyId);
      return {
        assemblyId,
        programmedRpm: rpm,
        actualRpm: cut > 0 ? rpm * (1 - away / cut) : rpm,
        cutHours: hours(cut),
        reducedHours: hours(reduced),
        awayHours: hours(away),
        ...bounds,
        ...(held.has(spindle.spindleId) || held.has(assemblyId) ? {} : couldOf(bounds, rpm, cut - away)),
      };
    });
}

/**
 * Balance alone does not say how fast a thing may turn: a maker's maximum has to be known, of the parts or of the spindle, and
 * the balance has to be shown. The lowest of them bounds. The time is what the cuts take at the programmed speed: what they took
 * longer is given away, and counted there.
 */
function couldOf(bounds: Bounds, programmedRpm: number, atProgrammedMs: number): Partial<HeadroomProgram> {
  const { balanceUpToRpm, markedRpm, maximumRpm } = bounds;
  if (balanceUpToRpm === undefined || (markedRpm === undefined && maximumRpm === undefined)) return {};
  const known: readonly (readonly [SpeedBound, number | undefined])[] = [
    ['marked-maximum', markedRpm],
    ['spindle-maximum', maximumRpm],
  ];
  let allowedBy: SpeedBound = 'balance';
  let allowedRpm = balanceUpToRpm;
  for (const [bound, rpm] of known) {
    if (rpm === undefined || rpm > allowedRpm) continue;
    allowedBy = bound;
    allowedRpm = rpm;
  }
  if (allowedRpm <= programmedRpm * (1 + COULD_SHARE_MIN)) return {};
  return { allowedRpm, allowedBy, couldHours: hours(atProgrammedMs) * (1 - programmedRpm / allowedRpm) };
}
