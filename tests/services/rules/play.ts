// Plays a story against the rules and compares what each line led to with what it says: a table that a setter can check.
import { expect } from 'vitest';
import type { Draft, Entry } from '../../../shared/entries.ts';
import type { Outcome } from '../../../shared/outcomes.ts';
import { decide, emptyFloor, evolve, type Floor } from '../../../services/rules/index.ts';
import { present } from './story-data.ts';
import { readStory, type PendingAct } from './story.ts';

export interface Played {
  readonly floor: Floor;
  readonly entries: readonly Entry[];
  readonly outcomes: readonly Outcome[];
}

/** The newest open hold of a subject, or the newest of all where none is open. */
function holdIdOf(floor: Floor, subjectId: string): string {
  const holds = [...floor.holds.values()].filter((hold) => hold.subject.id === subjectId);
  const open = holds.findLast((hold) => hold.state !== 'released' && hold.state !== 'void');
  return (open ?? holds.at(-1))?.holdId ?? 'H-0-0';
}

function entryOf(floor: Floor, draft: Draft | PendingAct): Entry {
  const position = floor.position + 1;
  if (draft.kind !== 'act') return { ...draft, position };
  const { act, at, actor, note, found } = draft;
  const data = { act, holdId: holdIdOf(floor, draft.subjectId), ...present({ note, found }) };
  return { kind: 'hold-act', position, at, id: `act-${position}`, actor, data };
}

/** One outcome in the words of the table; features are left out, gates are said only where a line asks for them. */
function wordsOf(floor: Floor, outcome: Outcome): string | undefined {
  switch (outcome.kind) {
    case 'hold-raised':
      return `hold ${outcome.hold.subject.id} ${outcome.hold.reason}`;
    case 'hold-repeated': {
      const hold = floor.holds.get(outcome.holdId);
      return `again ${hold?.subject.id ?? '?'} ${hold?.reason ?? '?'}`;
    }
    case 'hold-stepped': {
      const hold = floor.holds.get(outcome.holdId);
      const deviation = outcome.step.deviation === true ? ' by deviation' : '';
      return `${outcome.step.state} ${hold?.subject.id ?? '?'} ${hold?.reason ?? '?'}${deviation}`;
    }
    case 'cause-weighed':
      return `weighed ${floor.holds.get(outcome.holdId)?.subject.id ?? '?'}: ${outcome.finding.named ?? 'cannot be told'}`;
    case 'hold-escalated': {
      const { level, priority, to } = outcome.escalation;
      return `told ${floor.holds.get(outcome.holdId)?.subject.id ?? '?'} level ${level}, ${priority}, ${to.join(' ')}`;
    }
    case 'act-refused':
      return `refused: ${outcome.why}`;
    case 'gate-answered':
      return `gate ${outcome.answer.assemblyId} in ${outcome.answer.spindleId}: ${outcome.answer.word}, ${outcome.answer.reason}`;
    case 'state-changed':
      return `state ${outcome.subject.id} ${outcome.state}`;
    case 'severity-changed': {
      const { against, from, to } = outcome.change;
      return `severity ${outcome.spindleId} ${against} ${from ?? 'first'} ${to}`;
    }
    case 'limit-ahead':
      return `ahead ${outcome.spindleId} ${outcome.ahead.quantity} ${outcome.ahead.p50At ?? 'taken back'}`;
    case 'override-kept':
      return `override ${outcome.spindleId} ${outcome.kept.state}`;
    case 'wave-asked':
      return `asked ${outcome.device} for ${outcome.spindleId} by ${outcome.by}`;
    case 'remarked':
      return `remark ${outcome.subject.id}: ${outcome.remark}`;
    case 'reading-features':
      return outcome.features.comparable ? 'comparable' : `not comparable: ${outcome.features.notComparable ?? '?'}`;
  }
}

/** Always compared; the others only where the line speaks of them. */
const ALWAYS = /^(hold|again|raised|told|released|taken|checked|void|refused|state|asked)\b/;

function isAsked(words: string, expected: readonly string[]): boolean {
  const [first = ''] = words.split(/[ :]/);
  return ALWAYS.test(words) || expected.some((line) => line.split(/[ :]/)[0] === first);
}

/** Plays on from a floor; each line's outcomes must be those it names, in their order, and no others. */
export function play(story: string, floor: Floor = emptyFloor('test')): Played {
  const entries: Entry[] = [];
  const all: Outcome[] = [];
  for (const { text, drafts, expected } of readStory(story)) {
    const said: string[] = [];
    for (const draft of drafts) {
      const entry = entryOf(floor, draft);
      const outcomes = decide(floor, entry);
      evolve(floor, entry, outcomes);
      entries.push(entry);
      all.push(...outcomes);
      for (const outcome of outcomes) {
        const words = wordsOf(floor, outcome);
        if (words !== undefined) said.push(words);
      }
    }
    const asked = said.filter((words) => isAsked(words, expected));
    expect({ line: text, leadsTo: collapsed(asked, expected) }).toEqual({ line: text, leadsTo: expected });
  }
  return { floor, entries, outcomes: all };
}

/** A repeated line says the same many times; what a line expects may leave out the rest of a text after `…`. */
function collapsed(said: readonly string[], expected: readonly string[]): readonly string[] {
  const once = said.filter((words, index) => words !== said[index - 1]);
  return once.map((words, index) => {
    const wanted = expected[index];
    if (wanted?.endsWith('…') !== true) return words;
    return words.startsWith(wanted.slice(0, -1).trim()) ? wanted : words;
  });
}
