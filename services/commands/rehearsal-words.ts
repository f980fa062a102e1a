// What a rehearsal says, as a person reads it line by line.
import { overrideKeptWords } from '../../shared/headroom-words.ts';
import { aheadToldWords } from '../../shared/ahead-words.ts';
import { CAUSE_WORDS } from '../../shared/causes.ts';
import { isOpen, REASON_WORDS } from '../../shared/holds.ts';
import { rfc3339Of } from '../../shared/time.ts';
import { amountWords, rpmWords, spanWords } from '../../shared/wording.ts';
import type { Rehearsed, RehearsalReport } from '../recording/index.ts';

export function wordsOf(said: Rehearsed): string {
  switch (said.kind) {
    case 'line-fault':
      return `line ${said.line}: ${said.why}`;
    case 'rejected':
      return `${said.at}  rejected ${said.topic}: ${said.problem.title}`;
    case 'hold-raised': {
      const { holdId, subject, reason } = said.hold;
      return `${said.at}  hold ${holdId} on ${subject.kind} ${subject.id}: ${REASON_WORDS[reason]}`;
    }
    case 'hold-repeated':
      return `${said.at}  hold ${said.holdId} again, with entry ${said.cause}`;
    case 'hold-stepped':
      return `${said.at}  hold ${said.holdId} ${said.step.state} by ${said.step.by}`;
    case 'hold-escalated': {
      const { level, to, waitedMs } = said.escalation;
      return `${said.at}  hold ${said.holdId} without an answer for ${spanWords(waitedMs)}: level ${level}, ${to.join(', ')} told`;
    }
    case 'cause-weighed': {
      const { named, shares } = said.finding;
      const [first] = shares;
      const likely =
        first === undefined ? 'nothing known' : `${CAUSE_WORDS[first.cause]} ${percentWords(first.probability)}`;
      return `${said.at}  cause of hold ${said.holdId}: ${named === undefined ? `cannot be told yet, ${likely}` : likely}`;
    }
    case 'act-refused':
      return `${said.at}  ${said.act} of ${said.holdId} refused: ${said.why}`;
    case 'gate-answered':
      return `${said.at}  gate ${said.answer.spindleId} / ${said.answer.assemblyId}: ${said.answer.word}, ${said.answer.why}`;
    case 'state-changed':
      return `${said.at}  ${said.subject.kind} ${said.subject.id} ${said.state}: ${said.why}`;
    case 'severity-changed': {
      const { against, from, to, levelMmS, speedRpm } = said.change;
      const before = from === undefined ? '' : `from ${from} `;
      return `${said.at}  spindle ${said.spindleId} at ${rpmWords(speedRpm)}: ${before}to ${to} with ${amountWords(levelMmS)} mm/s, against ${against}`;
    }
    case 'limit-ahead':
      return `${said.at}  spindle ${said.spindleId} at ${rpmWords(said.ahead.speedRpm)}: ${aheadToldWords(said.ahead)}`;
    case 'override-kept':
      return `${said.at}  spindle ${said.spindleId}: ${overrideKeptWords(said.kept)}`;
    case 'wave-asked':
      return `${said.at}  ${said.device} asked for a raw window of ${said.spindleId} by ${said.by}`;
    case 'remarked':
      return `${said.at}  ${said.subject.kind} ${said.subject.id}: ${said.remark}`;
  }
}

export function reportWords({ lines, faults, kept, duplicates, rejected, holds }: RehearsalReport): string {
  const open = holds.filter(isOpen);
  const list = open.map(
    ({ holdId, subject, reason, raisedAt }) =>
      `  ${holdId}  ${subject.kind} ${subject.id}  ${REASON_WORDS[reason]}  since ${rfc3339Of(raisedAt)}`,
  );
  return [
    `${counted(lines, 'line')}: ${kept} kept, ${counted(duplicates, 'repeat')}, ${rejected} rejected, ${faults} not readable`,
    `${counted(holds.length, 'hold')}, ${open.length} of them open at the end`,
    ...list,
  ].join('\n');
}

const percentWords = (share: number): string => `${Math.round(share * 100)} %`;
const counted = (count: number, one: string): string => `${count} ${one}${count === 1 ? '' : 's'}`;
