// Reads a story, one line per message, as a setter would write it down, into journal entries without their positions.
import type { Actor, HoldActName } from '../../../shared/acts.ts';
import type { Draft } from '../../../shared/entries.ts';
import type { Role } from '../../../shared/ids.ts';

/** Midnight of an invented day. */
export const MIDNIGHT = Date.UTC(2026, 10, 24);

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

const number = (rest: string, pattern: RegExp): number | undefined => {
  const found = pattern.exec(rest);
  return found === null ? undefined : Number((found[1] ?? '').replaceAll(',', ''));
};
const word = (rest: string, pattern: RegExp): string | undefined => pattern.exec(rest)?.[1];

function present<T extends Record<string, unknown>>(fields: T): { [K in keyof T]?: Exclude<T[K], undefined> } {
  return Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== undefined)) as {
    [K in keyof T]?: Exclude<T[K], undefined>;
  };
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
        data: { kind: 'sensor', ...present({ intervalS: number(rest, /every ([\d.]+) s/) }) },
      } as Draft;
    case 'lost':
      return { kind: 'state', ...device(word(rest, /^(\S+)/) ?? ''), data: { online: false, reason: 'lost' } } as Draft;
    case 'back':
      return { kind: 'state', ...device(word(rest, /^(\S+)/) ?? ''), data: { online: true } } as Draft;
    case 'proof':
      return { kind, ...device('bench-1'), data: proof(rest) } as Draft;
    case 'limit':
    case 'declare':
      return {
        kind: 'spindle-declared',
        at,
        id: `id-${(ids += 1)}`,
        actor: person(['engineer']),
        data: declared(rest),
      } as Draft;
    case 'take':
    case 'check':
    case 'release':
    case 'deviate':
    case 'void':
      return act({ at, kind, rest });
    case 'tick':
      return { kind, at };
    default:
      throw new Error(`no such kind of line: ${kind}`);
  }
}

const person = (roles: readonly Role[]): Actor => ({ name: 'Ada-Invented', roles: [...roles] });

function act({ at, kind, rest }: Line): PendingAct {
  const role = (word(rest, /\bas (\S+)$/) ?? 'engineer') as Role;
  const note = word(rest, /"([^"]*)"/);
  return {
    kind: 'act',
    at,
    act: kind as HoldActName,
    subjectId: word(rest, /^(\S+)/) ?? '',
    note,
    actor: person([role]),
  };
}

function build(rest: string): object {
  const marked = number(rest, /marked ([\d,]+)/);
  return {
    assemblyId: word(rest, /^(A-\S+)/),
    buildId: word(rest, /build (\S+)/) ?? 'b1',
    massKg: number(rest, /([\d.]+) kg/) ?? 1.2,
    serviceSpeedRpm: number(rest, /([\d,]+) rpm/) ?? 18_000,
    gradeMmS: number(rest, /G ?([\d.]+)/) ?? 2.5,
    parts: [
      { role: 'holder', name: 'holder H', markedMaxSpeedRpm: 40_000 },
      {
        role: 'cutter',
        name: word(rest, /cutter (\S+)/) ?? 'C',
        ...(marked === undefined ? {} : { markedMaxSpeedRpm: marked }),
      },
    ],
    ...present({ interface: word(rest, /through (\S+)/), reclampingUm: number(rest, /scatter ([\d.]+)/) }),
  };
}

/** `0.9 ± 0.1 g·mm`: one plane with the bench's smallest achievable residual; `planes 0.9 0.4`: two. */
function result(rest: string): object {
  const amounts = (
    word(rest, /planes ([\d. ]+)/)
      ?.trim()
      .split(' ') ?? [word(rest, /([\d.]+)(?: ±| g)/) ?? '0']
  ).map(Number);
  return {
    assemblyId: word(rest, /^(A-\S+)/),
    buildId: word(rest, /build (\S+)/) ?? 'b1',
    stage: word(rest, /(before-correction|after-correction|check)/) ?? 'check',
    frame: 'machine',
    ...(/no speed/.test(rest) ? {} : { measuredAtRpm: number(rest, /measured at ([\d,]+)/) ?? 1100 }),
    planes: amounts.map((residualGmm, index) => ({ name: `P${index + 1}`, residualGmm, angleDeg: 30 })),
    ...present({
      massKg: number(rest, /([\d.]+) kg/),
      serviceSpeedRpm: number(rest, /([\d,]+) rpm/),
      gradeMmS: number(rest, /G ?([\d.]+)/),
    }),
    error: { smallestAchievableGmm: number(rest, /± ([\d.]+)/) ?? 0.05 },
  };
}

function load(rest: string): object {
  return {
    action: 'load',
    assemblyId: word(rest, /^(A-\S+)/),
    spindleId: word(rest, /in (S-\S+)/),
    ...present({ programmedSpeedRpm: number(rest, /at ([\d,]+) rpm/), buildId: word(rest, /build (\S+)/) }),
  };
}

function machine(rest: string): object {
  return {
    spindleId: word(rest, /^(S-\S+)/),
    ...present({
      programmedSpeedRpm: number(rest, /programmed ([\d,]+)/),
      actualSpeedRpm: number(rest, /actual ([\d,]+)/),
      cutting: /not cutting/.test(rest) ? false : /cutting/.test(rest) ? true : undefined,
    }),
  };
}

/** Values differ in their last digit from one repeat to the next, as true readings do; `stuck` keeps them. */
function reading(rest: string, nth: number): object {
  const wobble = /stuck/.test(rest) ? 0 : (nth % 7) * 1e-4;
  const one = number(rest, /1x ([\d.]+)/);
  return {
    spindleId: word(rest, /^(S-\S+)/),
    speedRpm: number(rest, /at ([\d,]+) rpm/) ?? 18_000,
    overallMmS: (number(rest, /overall ([\d.]+)/) ?? 1) + wobble,
    ...(one === undefined ? {} : { synchronousMmS: one + wobble }),
    ...present({
      cutting: /not cutting/.test(rest) ? false : /cutting/.test(rest) ? true : undefined,
      steady: /unsteady/.test(rest) ? false : undefined,
      accelerationRmsMS2: number(rest, /acceleration ([\d.]+)/),
      fault: word(rest, /fault (\S+)/),
    }),
  };
}

function question(rest: string): object {
  return {
    assemblyId: word(rest, /^(A-\S+)/),
    spindleId: word(rest, /in (S-\S+)/),
    ...present({ speedRpm: number(rest, /at ([\d,]+) rpm/) }),
  };
}

function proof(rest: string): object {
  const plane = (residualGmm: number | undefined): object => ({ name: 'A', residualGmm, angleDeg: 0 });
  return {
    rotorSerial: 'invented rotor',
    planes: [plane(number(rest, /reads ([\d.]+)/))],
    expected: [plane(number(rest, /expected ([\d.]+)/))],
    toleranceGmm: number(rest, /± ([\d.]+)/),
  };
}

/** `overall 4.5 from 1000 to 24000 and 1x 2.8 from 1000 to 24000` */
function declared(rest: string): object {
  const limits = [...rest.matchAll(/(overall|1x) ([\d.]+) from (\d+) to (\d+)/g)].map(
    ([, quantity, limit, from, to]) => ({
      quantity: quantity === '1x' ? 'synchronous' : 'overall',
      limitMmS: Number(limit),
      fromSpeedRpm: Number(from),
      toSpeedRpm: Number(to),
      source: 'machine maker (invented)',
    }),
  );
  return {
    spindleId: word(rest, /^(S-\S+)/),
    machine: 'machine 1',
    cell: 'cell 1',
    limits,
    ...present({ maxSpeedRpm: number(rest, /maximum ([\d,]+)/) }),
  };
}
