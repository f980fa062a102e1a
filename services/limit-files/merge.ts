// Merges a file of limits into what was declared: what it says of a spindle's quantity replaces what stood there, the rest stays.
import {
  LIMITS_PER_SPINDLE_MAX,
  type LimitQuantity,
  type SpindleDeclared,
  type VibrationLimit,
} from '../../shared/acts.ts';
import { BEARINGS_PER_SPINDLE_MAX, type Bearing } from '../../shared/bearing.ts';
import { say } from '../../shared/language/index.ts';
import { limitRangeFaults } from '../../shared/limit-ranges.ts';
import type { LimitChange, LimitFileFault } from '../../shared/limits-import.ts';
import { datedAheadFaults } from '../../shared/source-dates.ts';
import type { Instant } from '../../shared/time.ts';
import { rpmWords } from '../../shared/wording.ts';
import type { ZoneTable } from '../../shared/zones.ts';
import type { LimitFile, RowOf } from './read.ts';
import { inLineOrder } from './rows.ts';

export interface Merged {
  /** Whole declarations, of the spindles that change. Empty where there is a fault: all of a file or nothing. */
  readonly declarations: readonly SpindleDeclared[];
  readonly changes: readonly LimitChange[];
  readonly faults: readonly LimitFileFault[];
}

/** What is wrong with a file, in its rows, between them and with their dates, whatever was declared before. */
export function faultsOfFile(file: LimitFile, now: Instant): readonly LimitFileFault[] {
  return inLineOrder([...file.faults, ...[...bySpindle(file).values()].flatMap((rows) => faultsOf(rows, now))]);
}

/** `declared` gives a spindle as it was declared last; undefined where nobody did. */
export function mergeLimits(
  file: LimitFile,
  declared: (spindleId: string) => SpindleDeclared | undefined,
  now: Instant,
): Merged {
  const faults: LimitFileFault[] = [...file.faults];
  const declarations: SpindleDeclared[] = [];
  const changes: LimitChange[] = [];
  for (const [spindleId, rows] of bySpindle(file)) {
    const before = declared(spindleId);
    if (before === undefined) {
      const want = say`a spindle that is declared; declare it first, with its machine and cell`;
      faults.push({ line: rows.line, field: 'spindleId', want, got: spindleId });
      continue;
    }
    faults.push(...faultsOf(rows, now));
    const after = mergedInto(before, rows);
    const change = changeOf(before, after);
    changes.push(change);
    if (change.adds.length + change.removes.length > 0) declarations.push(after);
  }
  return { declarations: faults.length === 0 ? declarations : [], changes, faults: inLineOrder(faults) };
}

interface SpindleRows {
  readonly line: number;
  readonly limits: RowOf<VibrationLimit>[];
  readonly zones: RowOf<ZoneTable>[];
  readonly bearings: RowOf<Bearing>[];
}

function bySpindle(file: LimitFile): ReadonlyMap<string, SpindleRows> {
  const all = new Map<string, SpindleRows>();
  const rowsOf = ({ spindleId, line }: RowOf<unknown>): SpindleRows => {
    const rows = all.get(spindleId) ?? { line, limits: [], zones: [], bearings: [] };
    all.set(spindleId, rows);
    return rows;
  };
  for (const row of file.limits) rowsOf(row).limits.push(row);
  for (const row of file.zones) rowsOf(row).zones.push(row);
  for (const row of file.bearings) rowsOf(row).bearings.push(row);
  return all;
}

/** What is wrong between rows, and a date to come: ranges that overlap, a second table, a bearing twice, more than is kept. */
function faultsOf({ limits, zones, bearings }: SpindleRows, now: Instant): readonly LimitFileFault[] {
  const rangeFaults = limitRangeFaults(
    limits.map((row) => row.value),
    (place) => limits[place]?.line,
  );
  const ranges = rangeFaults.map(({ pointer, want, got }) => {
    const [, , index = '0', field = ''] = pointer.split('/');
    return { line: limits[Number(index)]?.lineOf(field) ?? 0, field, want, got };
  });
  const names = bearings.map((row) => row.value.name);
  const twice = bearings.filter((row, place) => names.indexOf(row.value.name) !== place);
  return [
    ...ranges,
    ...[...limits, ...zones].flatMap((row) => datedAhead(row, now)),
    ...zones.slice(1).map(({ line }) => ({ line, field: 'zones', want: say`one table for a spindle`, got: 'another' })),
    ...twice.map((row) => ({
      line: row.lineOf('name'),
      field: 'name',
      want: say`each bearing once`,
      got: row.value.name,
    })),
    ...tooMany(limits, LIMITS_PER_SPINDLE_MAX, 'limits'),
    ...tooMany(bearings, BEARINGS_PER_SPINDLE_MAX, 'bearings'),
  ];
}

function datedAhead({ value, lineOf }: RowOf<VibrationLimit> | RowOf<ZoneTable>, now: Instant) {
  const faults =
    'quantity' in value
      ? datedAheadFaults({ limits: [value] }, now)
      : datedAheadFaults({ limits: [], zones: value }, now);
  return faults.map(({ want, got }) => ({
    line: lineOf('sourceDate'),
    field: 'sourceDate',
    want,
    got: got.slice(0, 10),
  }));
}

function tooMany(rows: readonly RowOf<unknown>[], max: number, field: string): readonly LimitFileFault[] {
  const first = rows[max];
  if (first === undefined) return [];
  return [{ line: first.line, field, want: say`at most ${max} for a spindle`, got: String(rows.length) }];
}

function mergedInto(before: SpindleDeclared, { limits, zones, bearings }: SpindleRows): SpindleDeclared {
  const named = new Set<LimitQuantity>(limits.map((row) => row.value.quantity));
  const kept = before.limits.filter((limit) => !named.has(limit.quantity));
  const table = zones[0]?.value;
  return {
    ...before,
    limits: [...kept, ...limits.map((row) => row.value)],
    ...(table === undefined ? {} : { zones: table }),
    ...(bearings.length === 0 ? {} : { bearings: bearings.map((row) => row.value) }),
  };
}

function changeOf(before: SpindleDeclared, after: SpindleDeclared): LimitChange {
  const [was, is] = [linesOf(before), linesOf(after)];
  const only = (one: Lines, other: Lines): string[] =>
    [...one].flatMap(([exactly, words]) => (other.has(exactly) ? [] : [words]));
  const adds = only(is, was);
  return { spindleId: after.spindleId, adds, removes: only(was, is), same: is.size - adds.length };
}

/** By every digit of it, in words that a person can compare. */
type Lines = ReadonlyMap<string, string>;

function linesOf({ limits, zones, bearings = [] }: SpindleDeclared): Lines {
  const lines = new Map<string, string>();
  for (const limit of limits) lines.set(JSON.stringify(limit), limitWords(limit));
  if (zones !== undefined) lines.set(JSON.stringify(zones), zoneWords(zones));
  for (const bearing of bearings) {
    lines.set(JSON.stringify(bearing), say`bearing ${bearing.name}: ${bearingWords(bearing)}; ${bearing.source}`);
  }
  return lines;
}

const dated = ({ source, sourceDate }: { readonly source: string; readonly sourceDate?: string | undefined }): string =>
  sourceDate === undefined ? source : `${source}, ${sourceDate.slice(0, 10)}`;

function limitWords(limit: VibrationLimit): string {
  const { quantity, limitMmS } = limit;
  const [from, to] = [rpmWords(limit.fromSpeedRpm), rpmWords(limit.toSpeedRpm)];
  return quantity === 'overall'
    ? say`overall limit ${limitMmS} mm/s, ${from} to ${to}; ${dated(limit)}`
    : say`1× limit ${limitMmS} mm/s, ${from} to ${to}; ${dated(limit)}`;
}

function zoneWords(zones: ZoneTable): string {
  const { abMmS, bcMmS, cdMmS, generic } = zones;
  return generic
    ? say`zones A/B, B/C, C/D at ${abMmS}, ${bcMmS}, ${cdMmS} mm/s (a general table); ${dated(zones)}`
    : say`zones A/B, B/C, C/D at ${abMmS}, ${bcMmS}, ${cdMmS} mm/s; ${dated(zones)}`;
}

function bearingWords({ geometry, multiples }: Bearing): string {
  if (geometry !== undefined) {
    const { elements, elementDiameterMm, pitchDiameterMm, contactAngleDeg } = geometry;
    return say`${elements} elements of ${elementDiameterMm} mm on ${pitchDiameterMm} mm, contact angle ${contactAngleDeg}°`;
  }
  if (multiples === undefined) return '';
  const { cage, outer, inner, rolling } = multiples;
  return say`cage ${cage}, outer ${outer}, inner ${inner}, rolling element ${rolling} times the shaft`;
}
