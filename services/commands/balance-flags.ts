// Flags that several balance calculations share: what an assembly must meet, its interface, where its planes lie.
import { readFileSync } from 'node:fs';
import type { Command } from 'commander';
import { parse } from 'yaml';
import { ReferenceDeclared } from '../../shared/acts.ts';
import {
  implausibleMass,
  TOOL_MASS_MAX_KG,
  TOOL_MASS_MIN_KG,
  type BalanceDemand,
  type InterfaceScatter,
  type PlaneGeometry,
} from '../../shared/balance/index.ts';
import { PLAIN } from '../../shared/fault-words.ts';
import { gradeFor, interfaceScatterOf, referenceTables } from '../../shared/reference/index.ts';
import { unreadableWords } from '../../shared/unreadable-words.ts';
import { inBothUnits } from './both-units.ts';
import { once, type FlagReader } from './calculation-options.ts';
import { faultsOf } from './file-faults.ts';
import { ValueFault, type UnitSystem } from './value-units.ts';

export function withDemand(command: Command): Command {
  return command
    .option('--mass <value>', 'of the whole assembly: 1.2kg, 1200g, 2.6lb', once)
    .option('--speed <value>', 'service speed: 18000, in rpm', once)
    .option('--grade <value>', 'balance quality grade: G2.5 or 2.5, in mm/s', once)
    .option(
      '--for <use>',
      'the grade that is usual for this use, instead of --grade (counterpoise reference lists them)',
      once,
    );
}

export function withInterface(command: Command): Command {
  return command
    .option('--interface <name>', 'spindle interface by its trade name: HSK-A63; for the reclamping scatter', once)
    .option('--reclamping <value>', 'how far clamping anew moves it off the axis, where it is known: 2um', once)
    .option('--own <file>', "the plant's own reference figures, JSON or YAML", once);
}

export function withPlanes(command: Command): Command {
  return command
    .option('--plane-a <vector>', 'unbalance in plane A: 3.2gmm@120', once)
    .option('--plane-b <vector>', 'unbalance in plane B', once)
    .option('--a-at <value>', 'position of plane A along the axis: 10mm, all from one point', once)
    .option('--b-at <value>', 'position of plane B', once)
    .option('--centre-of-mass <value>', 'its position along the axis', once);
}

/** Throws a ValueFault where mass, speed or grade is missing, or grade and use are both told. */
export function demandOf(read: FlagReader): BalanceDemand {
  const massKg = read.needed('mass', 'mass', 'a mass such as 1.2kg or 2.6lb');
  const serviceSpeedRpm = read.needed('speed', 'speed', 'the service speed such as 18000, in rpm');
  return { massKg, serviceSpeedRpm, gradeMmS: gradeOf(read) };
}

function gradeOf(read: FlagReader): number {
  const use = read.text('for');
  const gradeMmS = read.value('grade', 'grade');
  if (use === undefined) {
    if (gradeMmS !== undefined) return gradeMmS;
    throw new ValueFault('--grade: expected a grade such as G2.5, or --for and a use; it is missing');
  }
  if (gradeMmS !== undefined) throw new ValueFault('--grade and --for: expected one of them, came both');
  const row = gradeFor(use, ownReference(read));
  if (row !== null) return row.gradeMmS;
  const uses = referenceTables(ownReference(read)).grades.map((one) => one.use);
  throw new ValueFault(`--for: expected one of: ${uses.join('; ')}; came ${JSON.stringify(use)}`);
}

export function massRemarks(massKg: number, system: UnitSystem): readonly string[] {
  const remark = implausibleMass({ massKg, lowKg: TOOL_MASS_MIN_KG, highKg: TOOL_MASS_MAX_KG });
  return remark === null ? [] : [inBothUnits(remark, system)];
}

/** The scatter to count: as told, else that of the interface; undefined where neither is told. */
export function scatterTold(read: FlagReader): InterfaceScatter | undefined {
  const own = ownReference(read);
  const um = read.value('reclamping', 'eccentricity');
  const name = read.text('interface');
  if (um !== undefined) {
    return { interfaceKind: name ?? 'as told', lowUm: um, highUm: um, source: '--reclamping' };
  }
  if (name === undefined) return undefined;
  const row = interfaceScatterOf(name, own);
  if (row !== null) return row;
  throw new ValueFault(
    `--interface: nothing is known of ${JSON.stringify(name)}; expected HSK-A63, SK40, BT40, PSC63 and the like, or --reclamping`,
  );
}

/** Undefined where no position is told; throws a ValueFault where some are missing. */
export function geometryTold(read: FlagReader): PlaneGeometry | undefined {
  const names = ['a-at', 'b-at', 'centre-of-mass'] as const;
  const told = names.filter((name) => read.has(name));
  if (told.length === 0) return undefined;
  const [planeAMm = 0, planeBMm = 0, centreOfMassMm = 0] = names.map((name) =>
    read.needed(
      name,
      'length',
      `a position, because --${told.join(' and --')} ${told.length === 1 ? 'is' : 'are'} told`,
    ),
  );
  return { planeAMm, planeBMm, centreOfMassMm };
}

/** The plant's own figures, where --own names a file. Throws a ValueFault that says what is wrong with it. */
export function ownReference(read: FlagReader): ReferenceDeclared | undefined {
  const path = read.text('own');
  if (path === undefined) return undefined;
  const parsed = ReferenceDeclared.safeParse(readData(path, '--own'), PLAIN);
  if (parsed.success) return parsed.data;
  throw new ValueFault(`--own: ${faultsOf(parsed.error).join('; ')}`);
}

/** A file of JSON or YAML; throws a ValueFault where it cannot be read or is neither. */
export function readData(path: string, flag: string): unknown {
  const text = textOf(path, flag);
  try {
    return parse(text) as unknown;
  } catch (fault) {
    throw new ValueFault(
      `${flag}: ${path} is no JSON or YAML: ${fault instanceof Error ? fault.message : String(fault)}`,
    );
  }
}

function textOf(path: string, flag: string): string {
  try {
    return readFileSync(path, 'utf8');
  } catch (fault) {
    throw new ValueFault(`${flag}: ${path} cannot be read: ${unreadableWords(fault)}`);
  }
}
