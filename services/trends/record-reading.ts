// What a stretch of the journal adds to the record: a line for each act, and one for each decision of the rules.
import type { ActEntry, Entry, RetriedEntry } from '../../shared/entries.ts';
import type { Hold, HoldStep } from '../../shared/holds.ts';
import type { Outcome } from '../../shared/outcomes.ts';
import type { RecordAbout, RecordFacts, RecordKind, RecordLine } from '../../shared/record.ts';
import { instantOf, type Instant } from '../../shared/time.ts';

/** What a hold is about, as it was raised: later acts and steps name the hold alone. */
export type AboutHold = (holdId: string) => readonly RecordAbout[];

/** Of a position: the act first, then what the rules made of it, in the order of the chain. */
export function recordLines(entry: Entry, outcomes: readonly Outcome[], aboutHold: AboutHold): RecordLine[] {
  const own = actLine(entry, aboutHold);
  const lines = own === undefined ? [] : [own];
  // The act is 0, whether it is one or not, so that a line keeps its place however the record grows.
  outcomes.forEach((outcome, index) => {
    const made = decisionLine(outcome, aboutHold, isAct(entry));
    if (made === undefined) return;
    const by = made.by ?? (made.kind === 'act-refused' && 'actor' in entry ? entry.actor.name : undefined);
    const { position, at } = entry;
    lines.push({ position, ordinal: index + 1, at, ...made, ...(by === undefined ? {} : { by }) });
  });
  return lines;
}

function isAct(entry: Entry): entry is ActEntry | RetriedEntry {
  return 'actor' in entry;
}

function actLine(entry: Entry, aboutHold: AboutHold): RecordLine | undefined {
  if (!isAct(entry)) return undefined;
  const { position, at, kind, actor } = entry;
  const isService = actor.roles.includes('service');
  return {
    position,
    ordinal: 0,
    at,
    kind,
    by: actor.name,
    ...(isService ? { isService } : {}),
    ...told(entry, aboutHold),
  };
}

type Told = Pick<RecordLine, 'about' | 'note' | 'facts'>;

function told(entry: ActEntry | RetriedEntry, aboutHold: AboutHold): Told {
  switch (entry.kind) {
    case 'hold-act': {
      const { act, holdId, note, found } = entry.data;
      return { about: heldBy(holdId, aboutHold), ...noted(note), facts: given({ act, found }) };
    }
    case 'notice-try': {
      const { holdId, channel, outcome, attempt } = entry.data;
      return { about: heldBy(holdId, aboutHold), facts: { channel, outcome, attempt } };
    }
    case 'spindle-declared': {
      const { spindleId, limits, why } = entry.data;
      // Entries of old are as they were written: a list may be missing.
      return { about: [spindle(spindleId)], ...noted(why), facts: given({ count: limits?.length }) };
    }
    case 'correction-recorded': {
      const { assemblyId, steps, note } = entry.data;
      return { about: [assembly(assemblyId)], ...noted(note), facts: given({ count: steps?.length }) };
    }
    case 'doubt-lifted':
      return { about: [{ kind: 'bench', id: entry.data.benchId }], ...noted(entry.data.note), facts: {} };
    case 'ask-wave':
      return { about: [spindle(entry.data.spindleId)], facts: given({ channel: entry.data.channel }) };
    case 'work-planned': {
      const { spindleId, from, until, note, calledOff } = entry.data;
      const span = { from: instantIn(from), until: instantIn(until) };
      return { about: [spindle(spindleId)], ...noted(note), facts: given({ ...span, isCalledOff: calledOff }) };
    }
    case 'retried':
      return { about: [], facts: { message: entry.rejected } };
    case 'reference-declared':
    case 'answering-declared':
    case 'rules-declared':
    case 'rates-declared':
      return ofThePlant(entry);
  }
}

type OfThePlant = Extract<
  ActEntry,
  { kind: 'reference-declared' | 'answering-declared' | 'rules-declared' | 'rates-declared' }
>;

function ofThePlant(entry: OfThePlant): Told {
  switch (entry.kind) {
    case 'reference-declared': {
      const { interfaces, densities, grades } = entry.data;
      return { about: [], facts: { count: interfaces.length + densities.length + grades.length } };
    }
    case 'answering-declared':
      return { about: [], ...noted(entry.data.note), facts: given({ count: entry.data.levels?.length }) };
    case 'rules-declared': {
      const { rules, why } = entry.data;
      return { about: [], ...noted(why), facts: given({ name: rules?.name, version: rules?.version }) };
    }
    case 'rates-declared':
      return { about: [], facts: {} };
  }
}

type Made = Omit<RecordLine, 'position' | 'ordinal' | 'at'>;

/** Undefined of what is no decision on a hold or a limit. */
function decisionLine(outcome: Outcome, aboutHold: AboutHold, isByAct: boolean): Made | undefined {
  switch (outcome.kind) {
    case 'hold-raised':
      return {
        kind: 'hold-raised',
        about: [{ kind: 'hold', id: outcome.hold.holdId }, ...aboutOf(outcome.hold)],
        facts: { reason: outcome.hold.reason },
      };
    case 'hold-stepped':
      return stepLine(outcome.holdId, outcome.step, aboutHold, isByAct);
    case 'hold-escalated': {
      const { level, priority, to, waitedMs } = outcome.escalation;
      return {
        kind: 'hold-escalated',
        about: heldBy(outcome.holdId, aboutHold),
        facts: { level, priority, toRoles: to, waitedMs },
      };
    }
    case 'act-refused':
      return {
        kind: 'act-refused',
        about: heldBy(outcome.holdId, aboutHold),
        facts: { act: outcome.act, why: outcome.why },
      };
    case 'limit-ahead': {
      const { quantity, speedRpm, levelMmS, limitMmS, source, p50At } = outcome.ahead;
      return {
        kind: 'limit-ahead',
        about: [spindle(outcome.spindleId)],
        facts: given({ quantity, speedRpm, levelMmS, limitMmS, source, reachedAt: p50At }),
      };
    }
    case 'reading-features':
    case 'hold-repeated':
    case 'gate-answered':
    case 'state-changed':
    case 'severity-changed':
    case 'override-kept':
    case 'cause-weighed':
    case 'wave-asked':
    case 'remarked':
      return undefined;
  }
}

function stepLine(holdId: string, step: HoldStep, aboutHold: AboutHold, isByAct: boolean): Made {
  const { state, by, note, awaits, deviation, askedBy, movedTo, found } = step;
  // After a person's act it is the person's note; after anything else they are words of the rules.
  const why = isByAct ? undefined : note;
  return {
    kind: kindOfStep(step),
    by,
    about: heldBy(holdId, aboutHold),
    ...noted(isByAct ? note : undefined),
    facts: given({ state, awaits, isDeviation: deviation, askedBy, movedTo, found, why }),
  };
}

function kindOfStep({ state, movedTo }: HoldStep): RecordKind {
  if (movedTo !== undefined) return 'hold-handed-on';
  return state === 'released' || state === 'void' ? 'hold-ended' : 'hold-stepped';
}

export function aboutOf({ subject, evidence }: Hold): readonly RecordAbout[] {
  const about: RecordAbout[] = [{ kind: subject.kind, id: subject.id }];
  const { spindleId, assemblyId, benchId } = evidence;
  if (spindleId !== undefined) about.push(spindle(spindleId));
  if (assemblyId !== undefined) about.push(assembly(assemblyId));
  if (benchId !== undefined) about.push({ kind: 'bench', id: benchId });
  return about.filter((one, index) => about.findIndex(({ kind, id }) => kind === one.kind && id === one.id) === index);
}

const heldBy = (holdId: string, aboutHold: AboutHold): readonly RecordAbout[] => [
  { kind: 'hold', id: holdId },
  ...aboutHold(holdId),
];
const spindle = (id: string): RecordAbout => ({ kind: 'spindle', id });
const assembly = (id: string): RecordAbout => ({ kind: 'assembly', id });

const noted = (note: string | undefined): { note?: string } => (note === undefined || note === '' ? {} : { note });

/** Undefined where an entry of old says no time that can be read. */
function instantIn(text: string): Instant | undefined {
  const at = instantOf(text);
  return Number.isFinite(at) ? at : undefined;
}

/** Without what is not said. */
function given(facts: { readonly [K in keyof RecordFacts]: RecordFacts[K] | undefined }): RecordFacts {
  return Object.fromEntries(Object.entries(facts).filter(([, value]) => value !== undefined)) as RecordFacts;
}
