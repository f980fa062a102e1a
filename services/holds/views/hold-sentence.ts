// The sentence a person reads first: what is on hold, why, by how much, and what to do. Words of the shop, no codes.
import {
  awaitedSince,
  isOpen,
  REASON_WORDS_THEN,
  type Clause,
  type Hold,
  type HoldStep,
} from '../../../shared/holds.ts';
import { amountWords, factorWords, rpmWords } from '../../../shared/wording.ts';

/** While it waits for something that was asked for, that is what a person has to know. */
export function holdSentence(hold: Hold): string {
  if (!isOpen(hold)) return endedSentence(hold);
  const run = awaitedSince(hold, 'verification-run');
  return run === undefined
    ? reasonSentence(hold)
    : `${hold.subject.id} is on hold: ${run.by} has released it after maintenance, and it waits for the run that verifies this. Load an assembly that is measured and within.`;
}

/** In the past, and by whom it ended: a notice of the end must not read like one of a hold. */
function endedSentence({ subject, reason, evidence, steps }: Hold): string {
  const [clause] = evidence.clauses;
  const last = steps.at(-1);
  const amounts = clause?.unit === 'mm/s' ? values(clause) : '';
  return `${subject.id} was on hold: ${REASON_WORDS_THEN[reason]}${atSpeed(evidence.speedRpm)}${amounts}.${last === undefined ? '' : ` ${endWords(last)}.`}`;
}

function endWords({ state, by, deviation, askedBy, movedTo }: HoldStep): string {
  if (movedTo !== undefined) return `Hold ${movedTo} stands for the same since`;
  if (state === 'void') return `Void, raised in error: ${by}`;
  if (deviation !== true) return `Released by ${by}`;
  return `It goes on by deviation of ${askedBy === undefined ? by : `${askedBy} and ${by}`}`;
}

function reasonSentence(hold: Hold): string {
  const { subject, evidence } = hold;
  const name = subject.id;
  const assembly = evidence.assemblyId ?? name;
  const spindle = evidence.spindleId ?? 'a spindle';
  const [clause] = evidence.clauses;
  switch (hold.reason) {
    case 'residual-exceeds':
      return `${name} is on hold: ${residualWords(clause)}${atSpeed(evidence.speedRpm)}. Correct and measure again.`;
    case 'speed-above-balanced':
      return `${name} is on hold: loaded in ${spindle}${atSpeed(evidence.speedRpm)}, above the ${limitSpeed(clause)} that it is balanced for. No faster than that until it is taken out, or balanced for this speed: either ends the hold.`;
    case 'speed-above-marked':
      return `${name} is on hold: loaded in ${spindle}${atSpeed(evidence.speedRpm)}, above the lowest marked maximum of its parts, ${limitSpeed(clause)}. Take it out; no balancing raises a marked maximum.`;
    case 'not-measured-since-build':
      return `${name} is on hold: loaded in ${spindle} though it was not measured since it was last ${sinceWords(clause)}. Measure it.`;
    case 'held-assembly-loaded':
      return `${name} is on hold: ${assembly} was loaded into it while on hold. Take it out.`;
    case 'overall-over-limit':
      return `${name} is on hold: its overall vibration is over the limit in force${values(clause)}. Find the cause before it goes on.`;
    case 'synchronous-over-limit':
      return `${name} is on hold: its vibration at once per revolution is over the limit in force${values(clause)}. Find the cause before it goes on.`;
    case 'vibration-unexplained':
      return `${name} is on hold: ${unexplainedWords(name === assembly ? 'it' : assembly, name === spindle ? 'it' : spindle, clause)}. Find the cause before it goes on.`;
    case 'bench-in-doubt':
      return `${name} is on hold: it did not pass its check. Its results do not count until it passes.`;
    case 'sensor-cannot-judge':
      return `${name} is on hold: its sensor cannot be believed. Nothing is known of this spindle until the sensor is sound.`;
  }
}

/** The clause says since what nothing was measured. */
function sinceWords(clause: Clause | undefined): string {
  return clause?.what.endsWith('corrected') === true ? 'corrected' : 'built';
}

function atSpeed(speedRpm: number | undefined): string {
  return speedRpm === undefined ? '' : ` at ${rpmWords(speedRpm)}`;
}

function residualWords(clause: Clause | undefined): string {
  if (clause === undefined || clause.limit <= 0) return 'it exceeds its permissible residual unbalance';
  const plane = clause.what.endsWith(', first plane')
    ? ' in its first plane'
    : clause.what.endsWith(', second plane')
      ? ' in its second plane'
      : '';
  return `its residual unbalance${plane} is ${factorWords(clause.measured / clause.limit)} what is permissible`;
}

/** A sensor, or what is beside the 1×, may be what is not as it was: then the 1× need not be above anything. */
function unexplainedWords(assembly: string, spindle: string, clause: Clause | undefined): string {
  return clause !== undefined && clause.measured <= clause.limit
    ? `what ${assembly} shows in ${spindle} is explained by nothing that is known`
    : `${assembly} vibrates in ${spindle} more than what is known explains${values(clause)}`;
}

function limitSpeed(clause: Clause | undefined): string {
  return clause === undefined ? 'speed' : rpmWords(clause.limit);
}

function values(clause: Clause | undefined): string {
  if (clause === undefined) return '';
  return `: ${amountWords(clause.measured)} against ${amountWords(clause.limit)} ${clause.unit}`;
}
