// The sentence a person reads first: what is on hold, why, by how much, and what to do. Words of the shop, no codes.
import {
  awaitedSince,
  isOpen,
  REASON_WORDS_THEN,
  type Clause,
  type Hold,
  type HoldStep,
} from '../../../shared/holds.ts';
import { say } from '../../../shared/language/index.ts';
import { amountWords, factorWords, rpmWords } from '../../../shared/wording.ts';

/** While it waits for something that was asked for, that is what a person has to know. */
export function holdSentence(hold: Hold): string {
  if (!isOpen(hold)) return endedSentence(hold);
  const run = awaitedSince(hold, 'verification-run');
  return run === undefined
    ? reasonSentence(hold)
    : say`${hold.subject.id} is on hold: ${run.by} has released it after maintenance, and it waits for the run that verifies this. Load an assembly that is measured and within.`;
}

/** In the past, and by whom it ended: a notice of the end must not read like one of a hold. */
function endedSentence({ subject, reason, evidence, steps }: Hold): string {
  const [clause] = evidence.clauses;
  const last = steps.at(-1);
  const was = wasWords(subject.id, REASON_WORDS_THEN[reason], evidence.speedRpm, clause);
  return last === undefined ? was : `${was} ${endWords(last)}`;
}

function wasWords(id: string, reason: string, speedRpm: number | undefined, clause: Clause | undefined): string {
  const [measured, limit, unit] =
    clause?.unit === 'mm/s' ? [amountWords(clause.measured), amountWords(clause.limit), clause.unit] : [];
  if (measured === undefined || limit === undefined || unit === undefined)
    return speedRpm === undefined
      ? say`${id} was on hold: ${reason}.`
      : say`${id} was on hold: ${reason} at ${rpmWords(speedRpm)}.`;
  return speedRpm === undefined
    ? say`${id} was on hold: ${reason}: ${measured} against ${limit} ${unit}.`
    : say`${id} was on hold: ${reason} at ${rpmWords(speedRpm)}: ${measured} against ${limit} ${unit}.`;
}

function endWords({ state, by, deviation, askedBy, movedTo }: HoldStep): string {
  if (movedTo !== undefined) return say`Hold ${movedTo} stands for the same since.`;
  if (state === 'void') return say`Void, raised in error: ${by}.`;
  if (deviation !== true) return say`Released by ${by}.`;
  return askedBy === undefined
    ? say`It goes on by deviation of ${by}.`
    : say`It goes on by deviation of ${askedBy} and ${by}.`;
}

function reasonSentence(hold: Hold): string {
  const { subject, evidence } = hold;
  const name = subject.id;
  const assembly = evidence.assemblyId ?? name;
  const spindle = evidence.spindleId ?? say`a spindle`;
  const [clause] = evidence.clauses;
  switch (hold.reason) {
    case 'residual-exceeds':
      return say`${name} is on hold: ${residualWords(clause, evidence.speedRpm)}. Correct and measure again.`;
    case 'speed-above-balanced':
      return aboveBalanced(name, spindle, evidence.speedRpm, limitSpeed(clause));
    case 'speed-above-marked':
      return aboveMarked(name, spindle, evidence.speedRpm, limitSpeed(clause));
    case 'not-measured-since-build':
      return isSinceCorrection(clause)
        ? say`${name} is on hold: loaded in ${spindle} though it was not measured since it was last corrected. Measure it.`
        : say`${name} is on hold: loaded in ${spindle} though it was not measured since it was last built. Measure it.`;
    case 'held-assembly-loaded':
      return say`${name} is on hold: ${assembly} was loaded into it while on hold. Take it out.`;
    case 'overall-over-limit':
      return say`${name} is on hold: its overall vibration is over the limit in force${values(clause)}. Find the cause before it goes on.`;
    case 'synchronous-over-limit':
      return say`${name} is on hold: its vibration at once per revolution is over the limit in force${values(clause)}. Find the cause before it goes on.`;
    case 'vibration-unexplained':
      return say`${name} is on hold: ${unexplainedWords(name, assembly, spindle, clause)}. Find the cause before it goes on.`;
    case 'bench-in-doubt':
      return say`${name} is on hold: it did not pass its check. Its results do not count until it passes.`;
    case 'sensor-cannot-judge':
      return say`${name} is on hold: its sensor cannot be believed. Nothing is known of this spindle until the sensor is sound.`;
  }
}

function aboveBalanced(name: string, spindle: string, speedRpm: number | undefined, limit: string): string {
  return speedRpm === undefined
    ? say`${name} is on hold: loaded in ${spindle}, above the ${limit} that it is balanced for. No faster than that until it is taken out, or balanced for this speed: either ends the hold.`
    : say`${name} is on hold: loaded in ${spindle} at ${rpmWords(speedRpm)}, above the ${limit} that it is balanced for. No faster than that until it is taken out, or balanced for this speed: either ends the hold.`;
}

function aboveMarked(name: string, spindle: string, speedRpm: number | undefined, limit: string): string {
  return speedRpm === undefined
    ? say`${name} is on hold: loaded in ${spindle}, above the lowest marked maximum of its parts, ${limit}. Take it out; no balancing raises a marked maximum.`
    : say`${name} is on hold: loaded in ${spindle} at ${rpmWords(speedRpm)}, above the lowest marked maximum of its parts, ${limit}. Take it out; no balancing raises a marked maximum.`;
}

/** The clause says since what nothing was measured. */
const isSinceCorrection = (clause: Clause | undefined): boolean => clause?.what.endsWith('corrected') === true;

function residualWords(clause: Clause | undefined, speedRpm: number | undefined): string {
  if (clause === undefined || clause.limit <= 0)
    return speedRpm === undefined
      ? say`it exceeds its permissible residual unbalance`
      : say`it exceeds its permissible residual unbalance at ${rpmWords(speedRpm)}`;
  const plane = planeWords(clause);
  const times = factorWords(clause.measured / clause.limit);
  return speedRpm === undefined
    ? say`its residual unbalance${plane} is ${times} what is permissible`
    : say`its residual unbalance${plane} is ${times} what is permissible at ${rpmWords(speedRpm)}`;
}

function planeWords({ what }: Clause): string {
  if (what.endsWith(', first plane')) return say` in its first plane`;
  return what.endsWith(', second plane') ? say` in its second plane` : '';
}

/** A sensor, or what is beside the 1×, may be what is not as it was: then the 1× need not be above anything. */
function unexplainedWords(name: string, assembly: string, spindle: string, clause: Clause | undefined): string {
  if (clause !== undefined && clause.measured <= clause.limit) {
    if (name === assembly) return say`what it shows in ${spindle} is explained by nothing that is known`;
    if (name === spindle) return say`what ${assembly} shows in it is explained by nothing that is known`;
    return say`what ${assembly} shows in ${spindle} is explained by nothing that is known`;
  }
  const amounts = values(clause);
  if (name === assembly) return say`it vibrates in ${spindle} more than what is known explains${amounts}`;
  if (name === spindle) return say`${assembly} vibrates in it more than what is known explains${amounts}`;
  return say`${assembly} vibrates in ${spindle} more than what is known explains${amounts}`;
}

function limitSpeed(clause: Clause | undefined): string {
  return clause === undefined ? say`speed` : rpmWords(clause.limit);
}

function values(clause: Clause | undefined): string {
  if (clause === undefined) return '';
  return say`: ${amountWords(clause.measured)} against ${amountWords(clause.limit)} ${clause.unit}`;
}
