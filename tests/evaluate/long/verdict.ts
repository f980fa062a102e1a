// One long scenario judged: each fault told or not, after how many loads, by which cause; and what was held for nothing.
import type { Cause, CauseFinding } from '../../../shared/causes.ts';
import type { HoldReason } from '../../../shared/holds.ts';
import type { Instant } from '../../../shared/time.ts';
import {
  aboutHold,
  accountsFor,
  factorOf,
  isSubject,
  LongScenario,
  type LongLabel,
  type WholeLoad,
} from '../../../simulators/index.ts';
import { informedCause, type InformedCause } from './informed-cause.ts';
import { informedLoads, isShownByLoads } from './informed.ts';
import { untoldLoads } from './untold.ts';
import { play, type HoldTold, type Played, type StateTold } from './play.ts';

/** Found counts within so many loads of what is affected. */
export const LOADS_MAX = 200;
/** Held because of another hold: it counts with that one. */
const DEPENDENT: ReadonlySet<HoldReason> = new Set(['held-assembly-loaded']);

export interface CauseTold {
  readonly named: Cause | undefined;
  readonly isRight: boolean;
  /** Probability that was given to what it truly was, and every probability with whether it came true. */
  readonly shares: readonly { readonly probability: number; readonly came: boolean }[];
}

export interface LongFaultVerdict {
  readonly kind: LongLabel['kind'];
  readonly cause: Cause;
  readonly mixed: boolean;
  readonly subject: string;
  readonly affected: number;
  /** Of the 1× that was to be expected; of the broadband part for a bearing. */
  readonly factor: number | undefined;
  /** Loads of what is affected until it was told, at least 1; undefined where it was not within LOADS_MAX. */
  readonly delayLoads: number | undefined;
  /** The same of the informed detector; undefined where it found nothing either, or where loads show nothing of it. */
  readonly informedLoads: number | undefined;
  /** Of the one that is told the machine, the kind and its course, but not how large it is. */
  readonly untoldLoads: number | undefined;
  readonly isShownByLoads: boolean;
  /** What can be named by who is told all but the cause; undefined where loads of one place do not decide it. */
  readonly informedCause: InformedCause | undefined;
  readonly told: CauseTold | undefined;
}

export interface ForNothing {
  readonly at: Instant;
  readonly reason: HoldReason;
  readonly subject: string;
  readonly words: string;
  readonly shares: readonly { readonly probability: number; readonly came: boolean }[];
}

export interface ScenarioVerdict {
  readonly seed: number;
  readonly words: string;
  readonly spindleDays: number;
  readonly entries: number;
  readonly failures: readonly string[];
  readonly faults: readonly LongFaultVerdict[];
  readonly forNothing: readonly ForNothing[];
}

export function judgeSeed(seed: number): ScenarioVerdict {
  const scenario = new LongScenario(seed);
  return judgeScenario(scenario, play(scenario));
}

export function judgeScenario(scenario: LongScenario, played: Played): ScenarioVerdict {
  const { labels, loads, seed, words, spindleDays } = scenario;
  const loadsPerSpindleDay = scenario.loadsADay / (spindleDays / scenario.days);
  const holds = played.holds.filter(({ hold }) => !DEPENDENT.has(hold.reason));
  return {
    seed,
    words,
    spindleDays,
    entries: played.entries,
    failures: played.failures,
    faults: labels
      .filter((label) => label.loads.length > 0)
      .map((label) =>
        verdictOf(label, { loads, holds: ofLabel(label, holds, labels), states: played.states }, loadsPerSpindleDay),
      ),
    forNothing: holds
      .filter(({ hold }) => !labels.some((label) => accountsFor(label, aboutHold(hold))))
      .map((told) => forNothingOf(told, labels)),
  };
}

interface Told {
  readonly loads: readonly WholeLoad[];
  readonly holds: readonly HoldTold[];
  readonly states: readonly StateTold[];
}

function verdictOf(label: LongLabel, told: Told, loadsPerSpindleDay: number): LongFaultVerdict {
  const { holds } = told;
  const states = told.states.filter((state) => tellsOfSensor(label, state));
  const at = Math.min(...holds.map(({ hold }) => hold.raisedAt), ...states.map((state) => state.at));
  const begun = label.loads.filter(({ load }) => load.at <= at).length;
  const shown = isShownByLoads(label);
  return {
    kind: label.kind,
    cause: label.cause,
    mixed: label.mixed,
    subject: label.subject.id,
    affected: label.loads.length,
    factor: label.floorFactor ?? (label.cause === 'sensor' ? undefined : factorOf(label)),
    delayLoads: Number.isFinite(at) && begun <= LOADS_MAX ? Math.max(1, begun) : undefined,
    informedLoads: shown ? informedLoads(label, loadsPerSpindleDay) : undefined,
    untoldLoads: shown ? untoldLoads(label, loadsPerSpindleDay) : undefined,
    isShownByLoads: shown,
    informedCause: informedCause(label, told.loads),
    told: Number.isFinite(at) ? causeOf(label, holds, states) : undefined,
  };
}

/** The holds that may be of it; one that names what another fault of the same place truly was is of that one. */
function ofLabel(label: LongLabel, holds: readonly HoldTold[], labels: readonly LongLabel[]): readonly HoldTold[] {
  return holds.filter((told) => {
    const about = aboutHold(told.hold);
    if (!accountsFor(label, about)) return false;
    const named = lastNamed(told, label);
    if (named === label.cause) return true;
    return !labels.some((other) => other.cause === named && accountsFor(other, about));
  });
}

/** The last word while it was there: what is weighed once it was put right speaks of a machine that is in order. */
function lastOf({ findings }: HoldTold, { to }: LongLabel): CauseFinding | undefined {
  return findings.findLast(({ at }) => at <= to) ?? findings[0];
}

function lastNamed(told: HoldTold, label: LongLabel): Cause | undefined {
  const finding = lastOf(told, label);
  return finding === undefined ? namedByReason(told.hold.reason) : finding.named;
}

/** The state of a spindle says what is wrong with its sensor. */
function tellsOfSensor(label: LongLabel, { at, subject, state }: StateTold): boolean {
  if (label.cause !== 'sensor' || (state !== 'implausible' && state !== 'stuck')) return false;
  return isSubject(label, subject) && at >= label.from && at <= label.to;
}

/** Of the holds on what it truly is where there are any, else of whatever was held for it. */
function causeOf(label: LongLabel, holds: readonly HoldTold[], states: readonly StateTold[]): CauseTold {
  const onIt = holds.filter(({ hold }) => isSubject(label, hold.subject));
  const foremost = onIt.length > 0 ? onIt : holds;
  const last = foremost.findLast(
    ({ hold, findings }) => findings.length > 0 || namedByReason(hold.reason) !== undefined,
  );
  if (last === undefined) return states.length > 0 ? ofReason(label, 'sensor') : NOT_TOLD;
  const finding = lastOf(last, label);
  if (finding === undefined) return ofReason(label, namedByReason(last.hold.reason));
  if (finding.named === undefined && states.length > 0) return ofReason(label, 'sensor');
  const foremostShare = finding.shares.find(({ cause }) => cause === finding.named);
  const isOfIt =
    foremostShare !== undefined && (label.names.has(foremostShare.of) || label.names.has(last.hold.subject.id));
  return { named: finding.named, isRight: finding.named === label.cause && isOfIt, shares: sharesOf(finding, [label]) };
}

const NOT_TOLD: CauseTold = { named: undefined, isRight: false, shares: [] };

function ofReason(label: LongLabel, named: Cause | undefined): CauseTold {
  return { named, isRight: named === label.cause, shares: [] };
}

/** What a reason says by itself; a limit says that it is exceeded, not by what. */
function namedByReason(reason: HoldReason): Cause | undefined {
  switch (reason) {
    case 'bench-in-doubt':
      return 'bench';
    case 'sensor-cannot-judge':
      return 'sensor';
    case 'residual-exceeds':
    case 'speed-above-balanced':
    case 'speed-above-marked':
    case 'not-measured-since-build':
    case 'held-assembly-loaded':
    case 'overall-over-limit':
    case 'synchronous-over-limit':
    case 'vibration-unexplained':
      return undefined;
  }
}

function sharesOf({ shares }: CauseFinding, truly: readonly LongLabel[]): CauseTold['shares'] {
  return shares.map(({ cause, probability }) => ({
    probability,
    came: truly.some((label) => label.cause === cause),
  }));
}

function forNothingOf({ hold, findings }: HoldTold, labels: readonly LongLabel[]): ForNothing {
  const finding = findings.at(-1);
  const { subject, evidence, reason, raisedAt } = hold;
  const open = labels.filter((label) => raisedAt >= label.from && raisedAt <= label.to);
  const clauses = evidence.clauses.map(
    ({ what, measured, limit, unit }) => `${what} ${measured.toPrecision(3)} against ${limit.toPrecision(3)} ${unit}`,
  );
  const named = finding === undefined ? '' : `; named ${finding.named ?? 'nothing'}`;
  const beside =
    open.length === 0 ? '' : `; meanwhile ${open.map((it) => `${it.kind} at ${it.subject.id}`).join(', ')}`;
  return {
    at: raisedAt,
    reason,
    subject: `${subject.kind} ${subject.id}`,
    words: `${clauses.join('; ')}${named}${beside}`,
    shares: finding === undefined ? [] : sharesOf(finding, []),
  };
}
