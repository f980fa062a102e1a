// A line of the record in words, made of its facts: what was done, or what the rules decided. What a person wrote stands beside it.
import { FOUND_WORDS } from '../../shared/cause-words.ts';
import { REASON_WORDS } from '../../shared/holds.ts';
import { retell, say } from '../../shared/language/index.ts';
import type { RecordFacts, RecordLine } from '../../shared/record.ts';
import type { RecordKind } from '../../shared/record-kinds.ts';
import type { HoldActName } from '../../shared/rights.ts';
import { count, speed, velocity, whole } from '../wording/figures.ts';
import { ROLE_WORDS } from '../wording/hold-words.ts';
import { day, duration, moment, type PlantClock } from '../wording/instants.ts';

/** As they are chosen among. */
export const KIND_WORDS: Readonly<Record<RecordKind, string>> = {
  'hold-act': say`what was done about a hold`,
  'correction-recorded': say`corrections recorded`,
  'doubt-lifted': say`doubt in a bench lifted`,
  'work-planned': say`work planned`,
  'spindle-declared': say`spindles and limits declared`,
  'rules-declared': say`rule sets put in force`,
  'answering-declared': say`answering declared`,
  'reference-declared': say`reference figures declared`,
  'rates-declared': say`rates declared`,
  'ask-wave': say`raw windows asked for`,
  retried: say`messages read again`,
  'notice-try': say`notices sent`,
  'hold-raised': say`holds raised`,
  'hold-stepped': say`holds taken or checked`,
  'hold-ended': say`holds ended`,
  'hold-handed-on': say`holds handed on`,
  'hold-escalated': say`holds that nobody answered`,
  'act-refused': say`acts refused`,
  'limit-ahead': say`limits ahead`,
};

const ACT_DONE: Readonly<Record<HoldActName, string>> = {
  take: say`Took the hold`,
  check: say`Checked the hold`,
  release: say`Maintenance release`,
  deviate: say`Asked for a deviation`,
  confirm: say`Second name to a deviation`,
  void: say`Called the hold raised in error`,
};

const QUANTITY_WORDS = { overall: say`overall vibration`, synchronous: say`1× vibration` } as const;

export function lineWords({ kind, facts }: Pick<RecordLine, 'kind' | 'facts'>, clock: PlantClock): string {
  switch (kind) {
    case 'hold-act':
      return withFound(facts.act === undefined ? say`Did something about the hold` : ACT_DONE[facts.act], facts);
    case 'correction-recorded':
      return say`Recorded a correction: ${count(facts.count ?? 0, 'step', 'steps')}`;
    case 'doubt-lifted':
      return say`Lifted the doubt in the bench`;
    case 'work-planned':
      return workWords(facts, clock);
    case 'spindle-declared':
      return say`Declared the spindle: ${count(facts.count ?? 0, 'limit', 'limits')}`;
    case 'rules-declared':
      return say`Put rule set ${facts.version ?? '–'} in force, “${facts.name ?? '–'}”`;
    case 'answering-declared':
      return say`Declared how holds are answered: ${count(facts.count ?? 0, 'level', 'levels')}`;
    case 'reference-declared':
      return say`Declared the plant’s own reference figures: ${count(facts.count ?? 0, 'row', 'rows')}`;
    case 'rates-declared':
      return say`Declared the plant’s rates`;
    case 'ask-wave':
      return facts.channel === undefined
        ? say`Asked for a raw window`
        : say`Asked for a raw window of channel ${facts.channel}`;
    case 'retried':
      return say`Had the rejected message at ${whole(facts.message ?? 0)} read again`;
    case 'notice-try':
      return noticeWords(facts);
    case 'hold-raised':
      return facts.reason === undefined ? say`Hold raised` : say`Hold raised: ${REASON_WORDS[facts.reason]}`;
    case 'hold-stepped':
    case 'hold-ended':
      return stepWords(facts);
    case 'hold-handed-on':
      return say`Hold handed on: ${facts.movedTo ?? '–'} stands in its place`;
    case 'hold-escalated':
      return escalationWords(facts);
    case 'act-refused':
      return facts.why === undefined ? say`Act refused` : say`Act refused: ${retell(facts.why)}`;
    case 'limit-ahead':
      return aheadWords(facts, clock);
  }
}

function withFound(words: string, { found }: RecordFacts): string {
  return found === undefined ? words : say`${words}. Found: ${FOUND_WORDS[found]}`;
}

function workWords({ from, until, isCalledOff }: RecordFacts, clock: PlantClock): string {
  if (isCalledOff === true) return say`Called planned work off`;
  return say`Planned work from ${moment(from, clock)} to ${moment(until, clock)}`;
}

function noticeWords({ outcome, channel = '–', attempt = 1 }: RecordFacts): string {
  switch (outcome) {
    case 'failed':
      return say`Notice by ${channel} failed, try ${attempt}`;
    case 'given-up':
      return say`Notice by ${channel} given up after ${count(attempt, 'try', 'tries')}`;
    case 'sent':
    case undefined:
      return say`Notice sent by ${channel}`;
  }
}

function stepWords(facts: RecordFacts): string {
  const words = stateWords(facts);
  return withFound(facts.why === undefined ? words : say`${words}: ${retell(facts.why)}`, facts);
}

function stateWords({ state, awaits, isDeviation, askedBy }: RecordFacts): string {
  if (awaits === 'verification-run') return say`Hold stays until a run verifies the repair`;
  if (awaits === 'second-name') return say`Hold stays until a second name is given to the deviation`;
  switch (state) {
    case 'taken':
      return say`Hold is taken`;
    case 'checked':
      return say`Hold is checked`;
    case 'released':
      if (isDeviation !== true) return say`Hold ended`;
      return askedBy === undefined
        ? say`Hold ended as a deviation`
        : say`Hold ended as a deviation that ${askedBy} had asked for`;
    case 'void':
      return say`Hold ended as void: raised in error`;
    case 'raised':
    case undefined:
      return say`Hold stands again`;
  }
}

function escalationWords({ waitedMs = 0, level = 1, toRoles = [] }: RecordFacts): string {
  const roles = toRoles.map((role) => ROLE_WORDS[role]).join(', ');
  return say`Nobody had answered for ${duration(waitedMs)}: level ${level} is told, ${roles}`;
}

function aheadWords(facts: RecordFacts, { zone }: PlantClock): string {
  const { quantity = 'overall', speedRpm, levelMmS, limitMmS, source = '–', reachedAt } = facts;
  const what = QUANTITY_WORDS[quantity];
  const limit = say`${velocity(limitMmS)} (source: ${source})`;
  return reachedAt === undefined
    ? say`Limit no longer ahead: ${what} at ${speed(speedRpm)}, now ${velocity(levelMmS)} of ${limit}`
    : say`Limit ahead: ${what} at ${speed(speedRpm)}, now ${velocity(levelMmS)} of ${limit}, most likely reached on ${day(reachedAt, zone)}`;
}
