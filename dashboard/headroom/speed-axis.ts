// Where the speeds of a spindle stand on the one axis that all rows share. Pure: numbers in, places out.
import type { HeadroomRow } from '../../shared/headroom.ts';

export interface Speeds {
  readonly assemblyId?: string;
  readonly programmedRpm?: number;
  readonly actualRpm?: number;
  readonly balanceUpToRpm?: number;
  /** The lowest of what is marked on its parts and the spindle's maximum. */
  readonly makersRpm?: number;
}

type Told = Partial<Omit<HeadroomRow['now'], 'overridePercent'>>;

/** Of the program that was cut longest; where none was, as things stand now. Standing still is no speed. */
export function speedsOf({ programs, now }: Pick<HeadroomRow, 'programs' | 'now'>): Speeds {
  const { assemblyId, programmedRpm, actualRpm, balanceUpToRpm, markedRpm, maximumRpm }: Told = programs[0] ?? now;
  const makers = [markedRpm, maximumRpm].filter((rpm) => rpm !== undefined);
  return {
    ...(assemblyId === undefined ? {} : { assemblyId }),
    ...turning('programmedRpm', programmedRpm),
    ...turning('actualRpm', actualRpm),
    ...turning('balanceUpToRpm', balanceUpToRpm),
    ...(makers.length === 0 ? {} : turning('makersRpm', Math.min(...makers))),
  };
}

function turning<K extends keyof Speeds>(name: K, rpm: number | undefined): Partial<Record<K, number>> {
  return rpm === undefined || rpm <= 0 ? {} : ({ [name]: rpm } as Partial<Record<K, number>>);
}

/** What is shown beyond the fastest speed that anything runs: a balance shown far beyond it would press all marks together. */
const BEYOND = 1.3;
const STEP_RPM = 5000;

/** The end of the axis: a round speed beyond what is run and what the makers allow. */
export function axisEndRpm(all: readonly Speeds[]): number {
  const run = Math.max(1, ...all.flatMap((one) => [one.programmedRpm ?? 0, one.actualRpm ?? 0, one.makersRpm ?? 0]));
  const balance = Math.max(0, ...all.map((one) => one.balanceUpToRpm ?? 0));
  return Math.ceil(Math.max(run, Math.min(balance, run * BEYOND)) / STEP_RPM) * STEP_RPM;
}

/** Places from 0 to 1; `beyond` where the balance is shown for more than the axis has. */
export interface Places {
  readonly programmed?: number;
  readonly actual?: number;
  readonly balance?: number;
  readonly makers?: number;
  readonly beyond: boolean;
}

export function placesOf(speeds: Speeds, endRpm: number): Places {
  const { programmedRpm, actualRpm, balanceUpToRpm, makersRpm } = speeds;
  const at = (rpm: number): number => Math.min(1, rpm / endRpm);
  return {
    ...(programmedRpm === undefined ? {} : { programmed: at(programmedRpm) }),
    ...(actualRpm === undefined ? {} : { actual: at(actualRpm) }),
    ...(balanceUpToRpm === undefined ? {} : { balance: at(balanceUpToRpm) }),
    ...(makersRpm === undefined ? {} : { makers: at(makersRpm) }),
    beyond: (balanceUpToRpm ?? 0) > endRpm,
  };
}
