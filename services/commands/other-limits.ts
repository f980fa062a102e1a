// A file of limits as other rules for a replay: wherever a spindle is declared, what the file says of it stands in the declaration.
import type { Actor, SpindleDeclared } from '../../shared/acts.ts';
import type { Entry } from '../../shared/entries.ts';
import { SERVICE_NAME } from '../../shared/recording.ts';
import { mergeLimits, type LimitFile } from '../limit-files/index.ts';
import type { OtherRules } from '../recording/index.ts';
import type { Floor, SpindleDeclaration } from '../rules/index.ts';

/** Nobody entered them: no person's name stands under a limit that was only tried. */
const SERVICE: Actor = { name: SERVICE_NAME, roles: ['service'] };

export interface OtherLimits extends OtherRules {
  /** Spindles of the file that nobody had declared by the end: what it says of them changed nothing. */
  undeclared(): readonly string[];
}

export function otherLimits(file: LimitFile, now: number): OtherLimits {
  const named = [...new Set([...file.limits, ...file.zones, ...file.bearings].map((row) => row.spindleId))];
  const rowsOf = new Map(named.map((spindleId) => [spindleId, ofSpindle(file, spindleId)]));
  const declared = new Set<string>();
  const merged = (before: SpindleDeclared): SpindleDeclared | undefined => {
    const rows = rowsOf.get(before.spindleId);
    if (rows === undefined) return undefined;
    declared.add(before.spindleId);
    return mergeLimits(rows, () => before, now).declarations[0];
  };
  return {
    undeclared: () => named.filter((spindleId) => !declared.has(spindleId)),
    revise: (entry) => {
      const data = entry.kind === 'spindle-declared' ? merged(entry.data) : undefined;
      return entry.kind === 'spindle-declared' && data !== undefined ? { ...entry, actor: SERVICE, data } : entry;
    },
    begin: (floor) =>
      named.flatMap((spindleId) => {
        const declaration = floor.spindles.get(spindleId)?.declaration;
        const data = declaration && merged(asDeclared(spindleId, declaration));
        return data === undefined ? [] : [declaring(floor, data)];
      }),
  };
}

function ofSpindle(file: LimitFile, spindleId: string): LimitFile {
  const isIts = (row: { readonly spindleId: string }): boolean => row.spindleId === spindleId;
  return {
    faults: [],
    limits: file.limits.filter(isIts),
    zones: file.zones.filter(isIts),
    bearings: file.bearings.filter(isIts),
  };
}

function asDeclared(spindleId: string, declaration: SpindleDeclaration): SpindleDeclared {
  const { machine, cell, limits, zones, measuring, maxSpeedRpm, interface: taper } = declaration;
  return {
    spindleId,
    machine,
    cell,
    limits: [...limits],
    ...(taper === undefined ? {} : { interface: taper }),
    ...(maxSpeedRpm === undefined ? {} : { maxSpeedRpm }),
    ...(zones === undefined ? {} : { zones }),
    ...measuring,
  };
}

function declaring({ position, at }: Floor, data: SpindleDeclared): Entry {
  return { kind: 'spindle-declared', position, at, id: `otherwise-${data.spindleId}`, actor: SERVICE, data };
}
