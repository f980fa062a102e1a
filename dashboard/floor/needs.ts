// "Needs somebody": what does not mend itself, who is expected to answer, and the next step. Quiet when there is nothing. Pure.
import { retell, say } from '../../shared/language/index.ts';
import { PRIORITIES } from '../../shared/priority-words.ts';
import { unansweredSince } from '../../shared/unanswered.ts';
import type { HoldView, SpindleRow, Standing } from '../../shared/views.ts';
import { openHolds, type Picture } from '../feed-fold.ts';
import { addressOf, assemblyAddress, holdAddress, spindleAddress } from '../router.ts';
import { count } from '../wording/figures.ts';
import { ANSWERED_BY, endsWhen, HOLD_STATE_WORDS, ROLE_WORDS } from '../wording/hold-words.ts';
import { age } from '../wording/instants.ts';
import { asSentence, STANDING_WORDS, SUBJECT_STATE_WORDS } from '../wording/standing-words.ts';
import { asCounted } from './floor-order.ts';

export interface Need {
  readonly key: string;
  readonly mark: Standing;
  /** The word beside the mark. */
  readonly word: string;
  readonly subject: string;
  readonly href: string;
  readonly sentence: string;
  readonly who: string;
  readonly next?: string;
  /** Set for a hold that nobody has taken. */
  readonly alone: boolean;
}

/** Listed one by one up to here; what is beyond is told as a number. */
export const NEEDS_LISTED_MAX = 40;

export function needsOf(picture: Picture): Need[] {
  const holds = openHolds(picture).sort(longestAloneFirst);
  const rows = [...picture.spindles.values()].sort((a, b) => asCounted(a.spindleId, b.spindleId));
  return [
    ...holds.map((hold) => holdNeed(hold, picture)),
    ...rows.filter((row) => row.standing === 'watch' && row.openHoldIds.length === 0).map(watchNeed),
    ...rows.filter((row) => row.standing === 'no-data').map((row) => noDataNeed(row, picture)),
    ...rows.flatMap(overrideNeed),
    ...rejectsNeed(picture),
  ];
}

/** Nobody's before somebody's, the more urgent first, then the longest without an answer. */
export function longestAloneFirst(a: HoldView, b: HoldView): number {
  const alone = Number(b.state === 'raised') - Number(a.state === 'raised');
  const urgent = urgencyOf(a) - urgencyOf(b);
  if (alone === 0 && urgent !== 0) return urgent;
  return alone !== 0 ? alone : unansweredSince(a) - unansweredSince(b) || asCounted(a.holdId, b.holdId);
}

const urgencyOf = ({ priority }: Pick<HoldView, 'priority'>): number =>
  PRIORITIES.indexOf(priority?.word ?? 'this-shift');

export function subjectAddress(subject: HoldView['subject'], holdId: string): string {
  switch (subject.kind) {
    case 'spindle':
      return spindleAddress(subject.id);
    case 'assembly':
      return assemblyAddress(subject.id);
    case 'bench':
    case 'plant':
      return holdAddress(holdId);
  }
}

export function whoHas(hold: HoldView, picture: Pick<Picture, 'zone' | 'now'>): string {
  const waited = age(unansweredSince(hold), picture);
  if (hold.state === 'raised') return say`nobody has it, ${waited}`;
  if (hold.state === 'taken') return say`${hold.takenBy ?? say`somebody`} has it, ${waited}`;
  return say`${HOLD_STATE_WORDS[hold.state]} by ${hold.steps.at(-1)?.by ?? say`somebody`}, ${waited} ago`;
}

function holdNeed(hold: HoldView, picture: Picture): Need {
  const alone = hold.state === 'raised';
  const ends = endsWhen(hold);
  return {
    key: hold.holdId,
    mark: 'hold',
    word: STANDING_WORDS.hold,
    subject: hold.subject.id,
    href: holdAddress(hold.holdId),
    sentence: retell(hold.sentence),
    who: alone ? `${ANSWERED_BY[hold.reason]}: ${whoHas(hold, picture)}` : whoHas(hold, picture),
    alone,
    ...(ends === undefined ? {} : { next: say`Ends when ${ends}.` }),
  };
}

function watchNeed(row: SpindleRow): Need {
  return {
    key: `watch-${row.spindleId}`,
    mark: 'watch',
    word: STANDING_WORDS.watch,
    subject: row.spindleId,
    href: spindleAddress(row.spindleId),
    sentence: asSentence(row.why === undefined ? say`It behaves unlike what is in it` : retell(row.why)),
    who: ROLE_WORDS.engineer,
    next: say`Next: look at its response and its last loads.`,
    alone: false,
  };
}

/** No hold and no standing: hours that nobody takes back unless somebody looks. */
function overrideNeed(row: SpindleRow): Need[] {
  if (row.overrideKept === undefined) return [];
  return [
    {
      key: `override-${row.spindleId}`,
      mark: 'watch',
      word: say`slowed`,
      subject: row.spindleId,
      href: addressOf({ page: 'headroom' }),
      sentence: retell(row.overrideKept),
      who: ROLE_WORDS.engineer,
      next: say`Next: ask whether there is still a reason; the limits of the machine and tool makers govern the speed.`,
      alone: false,
    },
  ];
}

function noDataNeed(row: SpindleRow, picture: Picture): Need {
  const last =
    row.lastReadingAt === undefined ? say`No reading yet` : say`Last reading ${age(row.lastReadingAt, picture)} ago`;
  return {
    key: `no-data-${row.spindleId}`,
    mark: 'no-data',
    word: STANDING_WORDS['no-data'],
    subject: row.spindleId,
    href: spindleAddress(row.spindleId),
    sentence: asSentence(
      row.why === undefined ? say`Its sensor is ${SUBJECT_STATE_WORDS[row.state]}. ${last}` : retell(row.why),
    ),
    who: ROLE_WORDS.maintenance,
    next: nextWithoutData(row),
    alone: false,
  };
}

function nextWithoutData(row: SpindleRow): string {
  if (row.state === 'mistimed') return say`Next: set the clock of the sensor.`;
  if (row.state === 'reporting' && row.lastReadingAt !== undefined)
    return say`Next: see on its page why its readings cannot be compared.`;
  return say`Next: look after the sensor, its mounting and its connection.`;
}

function rejectsNeed(picture: Picture): Need[] {
  const { rejectsOpen } = picture.intake;
  if (rejectsOpen === 0) return [];
  return [
    {
      key: 'rejects',
      mark: 'no-data',
      word: say`not read`,
      subject: say`Intake`,
      href: addressOf({ page: 'intake' }),
      sentence: say`${count(rejectsOpen, 'message', 'messages')} came that could not be read; nothing that came is lost.`,
      who: ROLE_WORDS.engineer,
      next: say`Next: see the reason, mend the device, read them again.`,
      alone: false,
    },
  ];
}
