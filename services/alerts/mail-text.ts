// A notice as a mail: plain text and nothing else, with the same sentence as everywhere, what to do, and a link to the hold.
import { createHash } from 'node:crypto';
import { PRIORITY_WORDS } from '../../shared/answering.ts';
import { REASON_WORDS } from '../../shared/holds.ts';
import { instantWords, spanWords } from '../../shared/wording.ts';
import type { HoldView } from '../../shared/views.ts';
import type { NoticeOf } from './notice.ts';
import type { NoticeReason } from './occasion.ts';

export interface MailText {
  readonly subject: string;
  readonly text: string;
  /** The same for every try of a notice, so that a mail that came twice is seen to be one. */
  readonly messageId: string;
  /** All mails of a hold stand together. */
  readonly inReplyTo: string;
}

const HAPPENED: Readonly<Record<NoticeReason, string>> = {
  raised: 'on hold',
  'raised-again': 'on hold again: the run after the repair showed the same',
  escalated: 'on hold, and nobody has answered',
  taken: 'somebody has it',
  checked: 'checked',
  'second-name-asked': 'a deviation is asked for and wants a second name',
  'run-asked': 'released by maintenance, waits for the run that verifies it',
  released: 'released',
  'released-by-deviation': 'goes on by deviation',
  void: 'void, raised in error',
};

export function mailText(hold: HoldView, { plant, noticeId, reason, dashboard }: NoticeOf): MailText {
  const lines = [
    hold.sentence,
    '',
    ...(hold.priority === undefined
      ? []
      : [`Wants an answer ${PRIORITY_WORDS[hold.priority.word]}: ${hold.priority.why}.`]),
    ...escalationLines(hold, reason),
    ...secondNameLines(hold, reason),
    ...(hold.takenBy === undefined ? [] : [`With ${hold.takenBy}.`]),
    ...(hold.open ? endLines(hold) : []),
    '',
    ...evidenceLines(hold),
    ...(hold.open && hold.checkFirst.length > 0
      ? ['Check first:', ...hold.checkFirst.map((check) => `- ${check}`), '']
      : []),
    'Every step:',
    ...hold.steps.map(stepLine),
    '',
    ...(dashboard === undefined ? [] : [`${dashboard.replace(/\/+$/, '')}/holds/${hold.holdId}`, '']),
    ...hold.cautions,
    '',
    `Plant ${plant}, hold ${hold.holdId}. A notice is advice: that no mail came says nothing about a machine.`,
  ];
  return {
    subject: `${plant}: ${hold.subject.id} ${HAPPENED[reason]} (${REASON_WORDS[hold.reason]})`,
    text: `${lines.join('\n')}\n`,
    messageId: messageIdOf(plant, noticeId),
    inReplyTo: messageIdOf(plant, hold.holdId),
  };
}

export function testMailText(plant: string, channel: string, at: number): Omit<MailText, 'inReplyTo'> {
  return {
    subject: `${plant}: a test of the alerts`,
    text: 'A test of the alerts: nothing is on hold because of it.\n',
    messageId: messageIdOf(plant, `test-${at}-${channel}`),
  };
}

/** Ids of plants and holds have no character that a message id may not have; hashed besides, so that its length is bounded. */
function messageIdOf(plant: string, id: string): string {
  return `<${createHash('sha256').update(`${plant} ${id}`).digest('hex').slice(0, 32)}@counterpoise.invalid>`;
}

function escalationLines({ escalations }: HoldView, reason: NoticeReason): string[] {
  const last = escalations?.at(-1);
  if (reason !== 'escalated' || last === undefined) return [];
  return [`Nobody has answered for ${spanWords(last.waitedMs)}. Level ${last.level}: told are ${last.to.join(', ')}.`];
}

function secondNameLines({ secondName }: HoldView, reason: NoticeReason): string[] {
  if (reason !== 'second-name-asked' || secondName === undefined) return [];
  const why = secondName.note === undefined ? '' : `: ${secondName.note}`;
  return [
    `${secondName.askedBy} asks for a deviation${why}. Another person confirms it on the hold’s page, or nobody.`,
  ];
}

function endLines({ conditions }: HoldView): string[] {
  if (conditions.length === 0) return [];
  return [`Ends when ${conditions.map(({ words }) => words).join(', or when ')}.`];
}

function evidenceLines({ evidence }: HoldView): string[] {
  if (evidence.clauses.length === 0) return [];
  const clauses = evidence.clauses.map(
    ({ what, measured, limit, unit, source }) =>
      `- ${what}: ${Number(measured.toPrecision(4))} against ${Number(limit.toPrecision(4))}${unit === '1' ? '' : ` ${unit}`} (${source})`,
  );
  const late = evidence.lateMs === undefined ? [] : [`- it came ${spanWords(evidence.lateMs)} after it was measured`];
  return ['Why:', ...clauses, ...late, ''];
}

function stepLine({ at, state, by, note, deviation }: HoldView['steps'][number]): string {
  const words = note === undefined ? '' : `: ${note}`;
  return `- ${instantWords(at)}, ${state}${deviation === true ? ' by deviation' : ''} by ${by}${words}`;
}
