// Reads a story, one line per message, as a setter would write it down, into journal entries without their positions.
import type { ActKind, Actor, HoldActName } from '../../../shared/acts.ts';
import type { Found } from '../../../shared/cause-words.ts';
import type { Draft } from '../../../shared/entries.ts';
import type { Role } from '../../../shared/ids.ts';
import {
  answering,
  benchBirth,
  benchTest,
  build,
  correction,
  declared,
  load,
  machine,
  MIDNIGHT,
  number,
  present,
  proof,
  question,
  reading,
  reference,
  result,
  tuning,
  word,
  work,
} from './story-data.ts';

export { MIDNIGHT } from './story-data.ts';

/** A line of a story: its entries, and what it is said to lead to; undefined where nothing is said. */
export interface StoryLine {
  readonly text: string;
  readonly drafts: readonly (Draft | PendingAct)[];
  readonly expected: readonly string[];
}

/** An act on "the hold of a subject", whose id only the play knows. */
export interface PendingAct {
  readonly kind: 'act';
  readonly at: number;
  readonly act: HoldActName;
  readonly subjectId: string;
  readonly note: string | undefined;
  /** `found bearing`: what the person found it to be. */
  readonly found: Found | undefined;
  readonly actor: Actor;
}

interface Line {
  readonly at: number;
  readonly kind: string;
  readonly rest: string;
}

export function readStory(story: string): StoryLine[] {
  let at = MIDNIGHT;
  return story
    .split('\n')
    .map((line) => line.replace(/#.*$/, '').trim())
    .filter((line) => line !== '')
    .map((text) => {
      const [what = '', ...outcomes] = text.split('=>').map((part) => part.trim());
      const match = /^(?:day (\d+) )?(\d\d):(\d\d)(?::(\d\d))? +(\S+) *(.*)$/.exec(what);
      if (match === null) throw new Error(`cannot read the line: ${text}`);
      const [, day = '1', hours, minutes, seconds = '0', kind = '', rest = ''] = match;
      at =
        MIDNIGHT + ((Number(day) - 1) * 86_400 + Number(hours) * 3600 + Number(minutes) * 60 + Number(seconds)) * 1000;
      return { text, drafts: repeated({ at, kind, rest }), expected: outcomes };
    });
}

/** `×5 every 20 s` stands for five messages. */
function repeated(line: Line): readonly (Draft | PendingAct)[] {
  const times = /×(\d+) every ([\d.]+) (s|min|h)/.exec(line.rest);
  if (times === null) return [draftOf(line)];
  const stepMs = Number(times[2]) * { s: 1000, min: 60_000, h: 3_600_000 }[times[3] as 's' | 'min' | 'h'];
  return Array.from({ length: Number(times[1]) }, (_, nth) => draftOf({ ...line, at: line.at + nth * stepMs }, nth));
}

let ids = 0;

function draftOf(line: Line, nth = 0): Draft | PendingAct {
  const { at, kind, rest } = line;
  const clock = /told (?:day (\d+) )?(\d\d):(\d\d)(?::(\d\d))?/.exec(rest);
  const time =
    clock === null
      ? number(rest, /told ms (-?\d+)/)
      : MIDNIGHT +
        ((Number(clock[1] ?? 1) - 1) * 86_400 +
          Number(clock[2]) * 3600 +
          Number(clock[3]) * 60 +
          Number(clock[4] ?? 0)) *
          1000;
  const by = word(rest, /by (\S+)/);
  const device = (fallback: string): object => ({
    at,
    id: `id-${(ids += 1)}`,
    device: by ?? fallback,
    ...present({ time, bootId: word(rest, /boot (\S+)/), sequence: number(rest, /sequence (\d+)/) }),
  });
  const act = (of: ActKind, data: object): Draft =>
    ({ kind: of, at, id: `id-${(ids += 1)}`, actor: person(['engineer']), data }) as Draft;
  switch (kind) {
    case 'build':
      return { kind, ...device('bench-1'), data: build(rest) } as Draft;
    case 'result':
      return { kind, ...device('bench-1'), data: result(rest) } as Draft;
    case 'load':
      return { kind, ...device('machine-1'), data: load(rest) } as Draft;
    case 'unload':
      return {
        kind: 'load',
        ...device('machine-1'),
        data: {
          spindleId: word(rest, /^(S-\S+)/),
          action: 'unload',
          ...present({ assemblyId: word(rest, /(A-\S+)/) }),
        },
      } as Draft;
    case 'machine':
      return { kind, ...device('machine-1'), data: machine(rest) } as Draft;
    case 'reading':
      return {
        kind: 'summary',
        ...device(`sensor-${word(rest, /^(S-\S+)/) ?? ''}`),
        data: reading(rest, nth),
      } as Draft;
    case 'ask':
      return { kind: 'query', ...device('machine-1'), data: question(rest) } as Draft;
    case 'birth':
      return {
        kind,
        ...device(word(rest, /^(\S+)/) ?? ''),
        data: rest.startsWith('bench')
          ? benchBirth(rest)
          : { kind: 'sensor', ...present({ intervalS: number(rest, /every ([\d.]+) s/) }) },
      } as Draft;
    case 'lost':
      return { kind: 'state', ...device(word(rest, /^(\S+)/) ?? ''), data: { online: false, reason: 'lost' } } as Draft;
    case 'back':
      return { kind: 'state', ...device(word(rest, /^(\S+)/) ?? ''), data: { online: true } } as Draft;
    case 'proof':
      return { kind, ...device('bench-1'), data: proof(rest) } as Draft;
    case 'test':
      return { kind, ...device('bench-1'), data: benchTest(rest) } as Draft;
    case 'correct':
      return { kind: 'correction', ...device('bench-1'), data: correction(rest) } as Draft;
    case 'record':
      return act('correction-recorded', correction(rest));
    case 'lift':
      return act('doubt-lifted', { benchId: word(rest, /^(\S+)/), note: word(rest, /"([^"]*)"/) });
    case 'work':
      return act('work-planned', work(rest));
    case 'answering':
      return act('answering-declared', answering(rest));
    case 'reference':
      return act('reference-declared', reference(rest));
    case 'tune':
      return act('rules-declared', tuning(rest));
    case 'limit':
    case 'declare':
      return act('spindle-declared', declared(rest));
    case 'take':
    case 'check':
    case 'release':
    case 'deviate':
    case 'confirm':
    case 'void':
      return holdAct({ at, kind, rest });
    case 'tick':
      return { kind, at };
    default:
      throw new Error(`no such kind of line: ${kind}`);
  }
}

const person = (roles: readonly Role[], name = 'Ada-Invented'): Actor => ({ name, roles: [...roles] });

function holdAct({ at, kind, rest }: Line): PendingAct {
  const role = (word(rest, /\bas (\S+)/) ?? 'engineer') as Role;
  const note = word(rest, /"([^"]*)"/);
  return {
    kind: 'act',
    at,
    act: kind as HoldActName,
    subjectId: word(rest, /^(\S+)/) ?? '',
    note,
    found: word(rest, /\bfound (\S+)/) as Found | undefined,
    actor: person([role], word(rest, /\bnamed (\S+)/)),
  };
}
