// How severe a spindle's vibration is at each speed that it runs, in figures and in a sentence; and what its standing says of it.
import { say } from '../../../shared/language/index.ts';
import {
  zoneEndMmS,
  type SeverityBin,
  type SeverityRung,
  type SeverityView,
  type StepShare,
} from '../../../shared/severity.ts';
import { GENERIC_WORDS } from '../../../shared/severity-words.ts';
import { MILLISECONDS_AN_HOUR } from '../../../shared/time.ts';
import { amountWords, rpmWords, wholeWords } from '../../../shared/wording.ts';
import type { Zone } from '../../../shared/zones.ts';
import {
  fallenFrom,
  heldRungOfLevel,
  risenFrom,
  SEVERITY_SPEAKS_MS,
  SPEED_BIN_SETTLED_READINGS,
  severitySource,
  speedBinEnds,
  standardAt,
  stepOf,
  stepShareOf,
  USUAL_READINGS_MIN,
  USUAL_TURNING_MS,
  type Floor,
  type SpeedBin,
  type SpindleState,
} from '../../rules/index.ts';
import { defined } from './defined.ts';

export function severityView(spindle: SpindleState): SeverityView {
  const { declaration, live } = spindle;
  // A speed that was only passed through is none that it runs.
  const run = [...live.bins.values()].filter(
    ({ bin, readings }) => readings >= SPEED_BIN_SETTLED_READINGS || bin === live.severityBin,
  );
  const bins = run.toSorted((a, b) => a.centreRpm - b.centreRpm);
  const zones = declaration?.zones;
  return {
    bins: bins.map((bin) => binView(spindle, bin)),
    history: live.severityChanges.toReversed(),
    ...defined({
      nowBin: live.severityBin,
      zones: zones === undefined ? undefined : { ...zones, ...defined({ enteredBy: declaration?.zonesBy }) },
    }),
  };
}

function binView(spindle: SpindleState, bin: SpeedBin): SeverityBin {
  const { severity } = bin;
  const [fromSpeedRpm, toSpeedRpm] = speedBinEnds(bin);
  const against = severity?.against;
  const held = severity?.held;
  return {
    speedBin: bin.bin,
    speedRpm: Math.round(bin.centreRpm),
    fromSpeedRpm: Math.round(fromSpeedRpm),
    toSpeedRpm: Math.round(toSpeedRpm),
    readings: bin.readings,
    lastAt: bin.lastAt,
    words: binWords(spindle, bin),
    ...defined({
      levelMmS: severity?.levelMmS,
      against,
      rung: held?.rung,
      rungSince: held?.rung === undefined ? undefined : held.since,
      levelRung: levelRung(spindle, bin),
      boundaryMmS: boundaryAbove(spindle, bin),
      source: against === undefined ? undefined : severitySource(spindle, bin, against),
      usual: usualView(spindle, bin),
      learning: learningView(spindle, bin),
    }),
  };
}

const isZone = (rung: SeverityRung | undefined): rung is Zone =>
  rung === 'A' || rung === 'B' || rung === 'C' || rung === 'D';

function boundaryAbove(spindle: SpindleState, bin: SpeedBin): number | undefined {
  const limit = standardAt(spindle, bin).limit;
  if (limit !== undefined) return limit.limitMmS;
  const zones = spindle.declaration?.zones;
  const rung = bin.severity?.held.rung;
  return zones === undefined || !isZone(rung) || rung === 'D' ? undefined : zoneEndMmS(zones, rung);
}

function usualView(spindle: SpindleState, bin: SpeedBin): SeverityBin['usual'] {
  const { severity } = bin;
  if (severity?.usualSetAt === undefined) return undefined;
  const { usualMmS, usualReadings, usualSetAt, change } = severity;
  return {
    usualMmS,
    readings: usualReadings,
    since: usualSetAt,
    stepMmS: stepOf(standardAt(spindle, bin), usualMmS),
    stepIs: stepShareOf(standardAt(spindle, bin), usualMmS),
    risenFromMmS: risenFrom(standardAt(spindle, bin), usualMmS),
    fallenFromMmS: fallenFrom(standardAt(spindle, bin), usualMmS),
    ...defined({ rung: change.rung, rungSince: change.rung === undefined ? undefined : change.since }),
  };
}

const USUAL_HOURS = USUAL_TURNING_MS / MILLISECONDS_AN_HOUR;

function learningView({ live }: SpindleState, { severity }: SpeedBin): SeverityBin['learning'] {
  if (severity === undefined || severity.usualSetAt !== undefined) return undefined;
  const hours = (live.turnedMs - severity.usualFromTurnedMs) / MILLISECONDS_AN_HOUR;
  return { readings: severity.usualReadings, hours: Math.round(Math.min(hours, USUAL_HOURS) * 10) / 10 };
}

const STEP_WORDS: Readonly<Record<StepShare, string>> = {
  boundary: say`25 % of the boundary between zones B and C`,
  limit: say`25 % of the limit`,
  usual: say`25 % of what was usual`,
  floor: say`the least step`,
};

/** What is said of a level: by itself, a sentence, or after other words. */
interface Told {
  readonly alone: string;
  readonly after: string;
}

function binWords(spindle: SpindleState, bin: SpeedBin): string {
  const { severity } = bin;
  if (severity === undefined) return say`No reading could be judged here yet.`;
  const parts = [heldWords(spindle, bin), changeWords(spindle, bin)].filter((part) => part !== undefined);
  return parts.length > 0 ? parts.map(({ alone }) => alone).join(' ') : say`Nothing to judge by yet.`;
}

/** Where the level lies, if not on the rung that is on record. */
function levelRung(spindle: SpindleState, bin: SpeedBin): SeverityRung | undefined {
  const { severity } = bin;
  if (severity?.held.rung === undefined) return undefined;
  const lies = heldRungOfLevel(severity, standardAt(spindle, bin));
  return lies === severity.held.rung ? undefined : lies;
}

/** Against the limit or the table; undefined while that is not certain, or where there is neither. */
function heldWords(spindle: SpindleState, bin: SpeedBin): Told | undefined {
  const { rung } = bin.severity?.held ?? {};
  const told = rungWords(spindle, bin, rung);
  const lies = levelRung(spindle, bin);
  const now = lies === undefined ? undefined : rungWords(spindle, bin, lies);
  if (told === undefined || now === undefined) return told;
  // First what is so now: beside a level that lies elsewhere the record alone would read as its contrary.
  return {
    alone: now.aloneWithRecord(told.after),
    after: say`${now.after}: its level lies there by now, not for long enough yet to go on record; on record is ${told.after}`,
  };
}

interface RungTold extends Told {
  /** By itself, while something else is on record. */
  readonly aloneWithRecord: (recorded: string) => string;
}

function rungWords(spindle: SpindleState, bin: SpeedBin, rung: SeverityRung | undefined): RungTold | undefined {
  const { zones } = spindle.declaration ?? {};
  const limit = standardAt(spindle, bin).limit;
  if (rung === 'over' && limit !== undefined) return overWords(amountWords(limit.limitMmS));
  if (rung === 'within' && limit !== undefined) return withinWords(amountWords(limit.limitMmS));
  if (!isZone(rung) || zones === undefined) return undefined;
  const reach =
    rung === 'D'
      ? say`above ${amountWords(zones.cdMmS)} mm/s`
      : say`up to ${amountWords(zoneEndMmS(zones, rung))} mm/s`;
  return zones.generic ? genericZoneWords(rung, reach, zones.source) : zoneWords(rung, reach, zones.source);
}

const overWords = (mmS: string): RungTold => ({
  alone: say`Over the limit of ${mmS} mm/s.`,
  after: say`over the limit of ${mmS} mm/s`,
  aloneWithRecord: (recorded) =>
    say`Over the limit of ${mmS} mm/s: its level lies there by now, not for long enough yet to go on record; on record is ${recorded}.`,
});

const withinWords = (mmS: string): RungTold => ({
  alone: say`Within the limit of ${mmS} mm/s.`,
  after: say`within the limit of ${mmS} mm/s`,
  aloneWithRecord: (recorded) =>
    say`Within the limit of ${mmS} mm/s: its level lies there by now, not for long enough yet to go on record; on record is ${recorded}.`,
});

const zoneWords = (zone: Zone, reach: string, source: string): RungTold => ({
  alone: say`Zone ${zone}, ${reach}, of “${source}”.`,
  after: say`zone ${zone}, ${reach}, of “${source}”`,
  aloneWithRecord: (recorded) =>
    say`Zone ${zone}, ${reach}, of “${source}”: its level lies there by now, not for long enough yet to go on record; on record is ${recorded}.`,
});

const genericZoneWords = (zone: Zone, reach: string, source: string): RungTold => ({
  alone: say`Zone ${zone}, ${reach}, of “${source}” (${GENERIC_WORDS}).`,
  after: say`zone ${zone}, ${reach}, of “${source}” (${GENERIC_WORDS})`,
  aloneWithRecord: (recorded) =>
    say`Zone ${zone}, ${reach}, of “${source}” (${GENERIC_WORDS}): its level lies there by now, not for long enough yet to go on record; on record is ${recorded}.`,
});

function changeWords(spindle: SpindleState, bin: SpeedBin): Told | undefined {
  const { severity } = bin;
  if (severity === undefined) return undefined;
  if (severity.usualSetAt === undefined) {
    const { readings = 0, hours = 0 } = learningView(spindle, bin) ?? {};
    return learningWords(wholeWords(readings), amountWords(hours));
  }
  const { usualMmS, change } = severity;
  const usual = amountWords(usualMmS);
  const share = STEP_WORDS[stepShareOf(standardAt(spindle, bin), usualMmS)];
  const step = say`${amountWords(stepOf(standardAt(spindle, bin), usualMmS))} mm/s, ${share}`;
  switch (change.rung) {
    case 'risen':
      return {
        alone: say`Risen from ${usual} mm/s by more than ${step}.`,
        after: say`risen from ${usual} mm/s by more than ${step}`,
      };
    case 'fallen':
      return {
        alone: say`Fallen from ${usual} mm/s by more than ${step}: is its sensor still mounted as it was?.`,
        after: say`fallen from ${usual} mm/s by more than ${step}: is its sensor still mounted as it was?`,
      };
    case 'usual':
    case undefined:
      return { alone: say`Usual is ${usual} mm/s.`, after: say`usual is ${usual} mm/s` };
    case 'within':
    case 'over':
    case 'A':
    case 'B':
    case 'C':
    case 'D':
      return undefined;
  }
}

const learningWords = (readings: string, hours: string): Told => ({
  alone: say`What is usual is being learned: ${readings} of at least ${USUAL_READINGS_MIN} readings, ${hours} of ${USUAL_HOURS} hours of turning.`,
  after: say`what is usual is being learned: ${readings} of at least ${USUAL_READINGS_MIN} readings, ${hours} of ${USUAL_HOURS} hours of turning`,
});

/** Zone C or D, or a change that lasted, at a speed that was run of late; the worst first. Undefined where there is none. */
export function severitySentence(floor: Floor, spindle: SpindleState): string | undefined {
  let worst: { readonly rank: number; readonly bin: SpeedBin } | undefined;
  for (const bin of spindle.live.bins.values()) {
    const rank = rankOf(bin);
    if (rank === 0 || floor.at - bin.lastAt > SEVERITY_SPEAKS_MS) continue;
    if (worst === undefined || rank > worst.rank) worst = { rank, bin };
  }
  if (worst === undefined) return undefined;
  const { rank, bin } = worst;
  const words = rank >= RANK_C ? heldWords(spindle, bin) : changeWords(spindle, bin);
  const level = amountWords(bin.severity?.levelMmS ?? 0);
  return say`its overall vibration at about ${rpmWords(Math.round(bin.centreRpm / 10) * 10)} is ${level} mm/s: ${words?.after ?? ''}`;
}

const RANK_FALLEN = 1;
const RANK_RISEN = 2;
const RANK_C = 3;
const RANK_D = 4;

/** Over a limit is not among them: that is a hold, or said as a limit. */
function rankOf({ severity }: SpeedBin): number {
  const { held, change } = severity ?? {};
  if (held?.rung === 'D') return RANK_D;
  if (held?.rung === 'C') return RANK_C;
  if (change?.rung === 'risen') return RANK_RISEN;
  return change?.rung === 'fallen' ? RANK_FALLEN : 0;
}
