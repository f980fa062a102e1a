// A replay in words: whether everything came again as it was recorded, or what two rule sets hold, and for how long.
import { FOUND_WORDS } from '../../shared/causes.ts';
import { REASON_WORDS } from '../../shared/holds.ts';
import { MILLISECONDS_AN_HOUR, rfc3339Of } from '../../shared/time.ts';
import { spanWords, wholeWords } from '../../shared/wording.ts';
import { differenceWords } from './replay-differences.ts';
import type { HoldComparison, HoldStay, PeoplesWord, Replayed } from '../recording/index.ts';

export function replayWords(replayed: Replayed, isOther: boolean): readonly string[] {
  const { holds } = replayed;
  return [
    ...headWords(replayed),
    ...(isOther ? otherWords(holds) : sameWords(replayed)),
    ...listWords('only on record', holds.onlyOnRecord),
    ...listWords('only anew', holds.onlyNow),
    ...pairWords(holds, isOther),
    ...(replayed.beyond > 0 ? [`${wholeWords(replayed.beyond)} more holds are in none of these lists`] : []),
  ];
}

function headWords({ from, to, span, entries, readings, snapshotPosition }: Replayed): readonly string[] {
  const before = from === 1 ? [] : [beforeWords(from, snapshotPosition)];
  return [
    `${wholeWords(entries)} entries decided anew, ${wholeWords(readings)} of them readings: ${from} to ${to}, ` +
      `${rfc3339Of(span.from)} to ${rfc3339Of(span.to)}`,
    ...before,
  ];
}

function beforeWords(from: number, snapshotPosition: number | undefined): string {
  const since = snapshotPosition === undefined ? 'the start' : `the snapshot at ${snapshotPosition}`;
  return `what was before ${from} is as it was recorded, from ${since} on`;
}

function sameWords({ holds, outcomes }: Replayed): readonly string[] {
  const same = holds.both.filter((pair) => pair.same).length;
  const { count, differing, first } = outcomes;
  return [
    `holds: ${same} come again the same, ${holds.both.length - same} otherwise, ${holds.onlyOnRecord.length} only on record, ` +
      `${holds.onlyNow.length} only anew`,
    first === undefined
      ? `of ${wholeWords(count)} things that the rules said, all came again to the last digit`
      : `of ${wholeWords(count)} things that the rules said, ${wholeWords(differing)} are otherwise than recorded, first at ` +
        `position ${first}: decided by other rules or another release then, or changed since`,
  ];
}

function otherWords({ both, onlyOnRecord, onlyNow }: HoldComparison): readonly string[] {
  const inBoth = both.map((pair) => pair.now);
  return [
    '                  holds     held   of them found: something  nothing  raised in error  not known',
    row('both', inBoth, `, on record ${hours(both.map((pair) => pair.onRecord))}`),
    row('only anew', onlyNow),
    row('only on record', onlyOnRecord),
  ];
}

function row(name: string, stays: readonly HoldStay[], more = ''): string {
  const counted = (said: PeoplesWord['said'] | undefined): string =>
    String(stays.filter((stay) => stay.word?.said === said).length);
  return (
    `  ${name.padEnd(15)}${String(stays.length).padStart(6)}${hours(stays).padStart(9)}` +
    `${counted('confirmed').padStart(27)}${counted('nothing-found').padStart(9)}` +
    `${counted('in-error').padStart(17)}${counted(undefined).padStart(11)}${more}`
  );
}

const hours = (stays: readonly HoldStay[]): string =>
  `${wholeWords(stays.reduce((sum, stay) => sum + stay.heldMs, 0) / MILLISECONDS_AN_HOUR)} h`;

function listWords(title: string, stays: readonly HoldStay[]): readonly string[] {
  return stays.length === 0 ? [] : [`${title}:`, ...stays.map((stay) => `  ${stayWords(stay)}`)];
}

/** Compared with other limits, one of which only the number is another is none that they changed. */
function pairWords({ both }: HoldComparison, isOther: boolean): readonly string[] {
  const changed = both.flatMap(({ same, onRecord, now }) => {
    const otherwise = same ? [] : differenceWords(onRecord, now);
    if (same || (isOther && otherwise.length === 0)) return [];
    return [`  ${stayWords(now)}; on record ${[onRecord.hold.holdId, ...otherwise].join(', ')}`];
  });
  return changed.length === 0 ? [] : [isOther ? 'both, otherwise:' : 'otherwise than recorded:', ...changed];
}

function stayWords({ hold, heldMs, word }: HoldStay): string {
  const { holdId, subject, reason, raisedAt } = hold;
  const said = word === undefined ? '' : `; ${peoplesWords(word)}`;
  return `${rfc3339Of(raisedAt)}  ${holdId}  ${subject.kind} ${subject.id}: ${REASON_WORDS[reason]}, held ${spanWords(heldMs)}${said}`;
}

function peoplesWords({ said, found, by }: PeoplesWord): string {
  switch (said) {
    case 'confirmed':
    case 'nothing-found':
      return `${by}: ${found === undefined ? 'confirmed' : FOUND_WORDS[found]}`;
    case 'in-error':
      return `${by}: raised in error`;
  }
}
