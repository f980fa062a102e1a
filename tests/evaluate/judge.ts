// What was told against what was planted: each fault told or not, by which word, after how long; and what was told for nothing.
import type { TrialLabel, Trial } from '../../simulators/index.ts';
import { MILLISECONDS_A_MINUTE, type Instant } from '../../shared/time.ts';
import type { LoadSeen, Observed, Told, Word } from './rehearsal.ts';
import { rowOf, type Row } from './rows.ts';

/** A reading more and the tick after it may still be about what has just ended. */
const GRACE_MS = 10 * MILLISECONDS_A_MINUTE;

export interface FaultVerdict {
  readonly row: Row;
  /** The first thing told about it; undefined where nothing was. */
  readonly first: Word | undefined;
  /** Until the word that is right for it, where it came at all. */
  readonly delayS: number | undefined;
  /** Loads of what it is about that were begun meanwhile. */
  readonly delayLoads: number | undefined;
}

export interface TrialVerdict {
  readonly kind: Trial['kind'];
  readonly seed: number;
  readonly spindleDays: number;
  readonly lines: number;
  readonly refused: number;
  readonly faults: readonly FaultVerdict[];
  /** Holds and states that no label accounts for. */
  readonly forNothing: readonly Told[];
}

export function judgeTrial(trial: Trial, observed: Observed): TrialVerdict {
  const { kind, seed, spindleDays, labels, lateByMs } = trial;
  const graceMs = GRACE_MS + lateByMs;
  return {
    kind,
    seed,
    spindleDays,
    lines: observed.lines,
    refused: observed.refused,
    faults: labels.filter(isScored).map((label) => verdictOf(label, observed, graceMs)),
    forNothing: observed.told.filter((told) => !labels.some((label) => accountsFor(label, told, graceMs))),
  };
}

/** What had been put right before the journal began is told at its beginning, and is no test of anything. */
function isScored({ from, to }: TrialLabel): boolean {
  return to > from;
}

function accountsFor(label: TrialLabel, told: Told, graceMs: number): boolean {
  return told.at >= label.from && told.at <= label.to + graceMs && told.about.includes(label.subject.id);
}

function verdictOf(label: TrialLabel, { told, loads }: Observed, graceMs: number): FaultVerdict {
  const row = rowOf(label);
  const mine = told.filter((one) => accountsFor(label, one, graceMs) && isForeign(one, label) === false);
  const [first] = mine;
  const right = mine.find((one) => row.right.includes(one.word));
  const since = label.tellableFrom ?? label.from;
  return {
    row,
    first: first?.word,
    delayS: right === undefined ? undefined : Math.max(0, right.at - since) / 1000,
    delayLoads: right === undefined ? undefined : loadsBetween(label, loads, since, right.at),
  };
}

/** The residual's own hold on an assembly is no answer to where it was put afterwards. */
function isForeign(told: Told, { kind }: TrialLabel): boolean {
  return told.word === 'residual-exceeds' && kind !== 'residual-exceeds';
}

function loadsBetween({ subject }: TrialLabel, loads: readonly LoadSeen[], since: Instant, until: Instant): number {
  return loads.filter(
    ({ at, spindleId, assemblyId }) =>
      at > since && at <= until && (subject.id === spindleId || subject.id === assemblyId),
  ).length;
}
