// Addresses and what they show: every page can be sent to somebody as a link. Pure: reads and writes texts only.
import { isRecordKind, type RecordKind } from '../shared/record-kinds.ts';
import {
  changed,
  choicesIn,
  isChoosing,
  NOTHING_CHOSEN,
  type ChoiceChanges,
  type Choices,
  type ChoosingPage,
} from './choices.ts';
import { FLOOR_SPANS, isSpan, SPANS, type Span } from './time-spans.ts';

/** What the page Holds shows: holds that are open, holds that ended, and who is told of one that nobody answers. */
export const HOLD_LISTS = ['open', 'ended', 'answering'] as const;
export type HoldList = (typeof HOLD_LISTS)[number];

/** What of the record is shown: all of it where nothing is said. Days as they are in the plant, such as 2026-11-24. */
export interface RecordRoute {
  readonly page: 'acts';
  readonly by?: string;
  readonly about?: string;
  readonly kind?: RecordKind | 'acts' | 'decisions';
  readonly from?: string;
  readonly to?: string;
}

export type Route =
  | { readonly page: 'floor'; readonly span?: Span; readonly cell?: string }
  | { readonly page: 'spindle'; readonly spindleId: string; readonly span?: Span; readonly choices?: Choices }
  | { readonly page: 'assemblies'; readonly choices?: Choices }
  | { readonly page: 'assembly'; readonly assemblyId: string; readonly choices?: Choices }
  /** Its balance record, for paper. */
  | { readonly page: 'record'; readonly assemblyId: string }
  | { readonly page: 'tool-room' }
  /** What is given away by running slow. */
  | { readonly page: 'headroom'; readonly choices?: Choices }
  | { readonly page: 'holds'; readonly list: HoldList }
  | { readonly page: 'hold'; readonly holdId: string }
  | { readonly page: 'tag'; readonly holdId: string }
  /** The speed as it stands in the address: what is wrong with it is said, not dropped. */
  | { readonly page: 'gate'; readonly spindleId?: string; readonly assemblyId?: string; readonly speed?: string }
  | { readonly page: 'intake'; readonly choices?: Choices }
  /** A file that a person brings. */
  | { readonly page: 'recording'; readonly choices?: Choices }
  /** Other limits and settings on history. */
  | { readonly page: 'try-out'; readonly choices?: Choices }
  /** What reaches its limit when. */
  | { readonly page: 'ahead'; readonly cell?: string }
  /** Whose limits: all of them, with their sources. */
  | { readonly page: 'limits'; readonly cell?: string; readonly find?: string; readonly only?: 'missing' }
  /** People, devices, spindles, and how to connect them. */
  | { readonly page: 'plant' }
  /** This plant beside others. */
  | { readonly page: 'plants' }
  /** Who did what; it verifies itself. */
  | RecordRoute
  /** The plant's month on paper; the last one that is whole where none is named. */
  | { readonly page: 'month'; readonly month?: string }
  /** A spindle on paper, for a repair order. */
  | { readonly page: 'report'; readonly spindleId: string }
  | { readonly page: 'sign-in' }
  | { readonly page: 'first-sign-in' }
  | { readonly page: 'unknown'; readonly path: string };
export type PageName = Route['page'];

/** Reads an address; whatever is not one of ours is `unknown`, never an exception. */
export function readRoute(pathname: string, search = ''): Route {
  const [first = 'floor', id, third, ...rest] = pathname
    .split('/')
    .filter((part) => part !== '')
    .map(decoded);
  const query = new URLSearchParams(search);
  const unknown: Route = { page: 'unknown', path: pathname };
  if (rest.length > 0) return unknown;
  if (id === undefined) return readList(first, query) ?? unknown;
  switch (first) {
    case 'spindle':
    case 'spindles':
      if (third === undefined)
        return { page: 'spindle', spindleId: id, ...spanOf(query), ...choicesIn('spindle', query) };
      return third === 'report' ? { page: 'report', spindleId: id } : unknown;
    // One of a list is looked for under the list's name too.
    case 'assembly':
    case 'assemblies':
      if (third === undefined) return { page: 'assembly', assemblyId: id, ...choicesIn('assembly', query) };
      return third === 'record' ? { page: 'record', assemblyId: id } : unknown;
    case 'hold':
    case 'holds':
      if (third === undefined) return { page: 'hold', holdId: id };
      return third === 'tag' ? { page: 'tag', holdId: id } : unknown;
    default:
      return unknown;
  }
}

function readList(first: string, query: URLSearchParams): Route | undefined {
  const cell = query.get('cell');
  switch (first) {
    case 'floor':
      return { page: 'floor', ...spanOf(query, FLOOR_SPANS), ...(cell === null ? {} : { cell }) };
    case 'assemblies':
    case 'headroom':
    case 'intake':
    case 'recording':
    case 'try-out':
      return { page: first, ...choicesIn(first, query) };
    case 'tool-room':
    case 'plant':
    case 'plants':
    case 'sign-in':
    case 'first-sign-in':
      return { page: first };
    case 'limits':
      return readLimits(query);
    case 'ahead':
      return { page: 'ahead', ...(cell === null ? {} : { cell }) };
    case 'record':
      return readRecord(query);
    case 'month': {
      const month = query.get('month') ?? '';
      return { page: 'month', ...(/^\d{4}-(?:0[1-9]|1[0-2])$/.test(month) ? { month } : {}) };
    }
    case 'holds':
      return { page: 'holds', list: HOLD_LISTS.find((list) => list === query.get('list')) ?? 'open' };
    case 'gate':
      return readGate(query);
    default:
      return undefined;
  }
}

/** A day that there is: no 31st of February. */
function isDay(text: string): boolean {
  const at = /^\d{4}-\d\d-\d\d$/.test(text) ? Date.parse(`${text}T00:00:00Z`) : NaN;
  return !Number.isNaN(at) && new Date(at).toISOString().startsWith(text);
}

function readRecord(query: URLSearchParams): RecordRoute {
  const [by = '', about = '', from = '', to = ''] = ['by', 'about', 'from', 'to'].map((name) =>
    query.get(name)?.trim(),
  );
  const kind = query.get('kind');
  return {
    page: 'acts',
    ...(by === '' ? {} : { by }),
    ...(about === '' ? {} : { about }),
    ...(isRecordKind(kind) || kind === 'acts' || kind === 'decisions' ? { kind } : {}),
    ...(isDay(from) ? { from } : {}),
    ...(isDay(to) ? { to } : {}),
  };
}

function readLimits(query: URLSearchParams): Route {
  const cell = query.get('cell') ?? '';
  const find = query.get('find') ?? '';
  return {
    page: 'limits',
    ...(cell === '' ? {} : { cell }),
    ...(find === '' ? {} : { find }),
    ...(query.get('only') === 'missing' ? { only: 'missing' } : {}),
  };
}

function readGate(query: URLSearchParams): Route {
  const read = (name: string): string => query.get(name)?.trim() ?? '';
  const spindleId = read('spindle');
  const assemblyId = read('assembly');
  const speed = read('speed');
  return {
    page: 'gate',
    ...(spindleId === '' ? {} : { spindleId }),
    ...(assemblyId === '' ? {} : { assemblyId }),
    ...(speed === '' ? {} : { speed }),
  };
}

function spanOf(query: URLSearchParams, offered: readonly Span[] = SPANS): { span?: Span } {
  const span = query.get('span');
  return isSpan(span) && offered.includes(span) ? { span } : {};
}

function decoded(part: string): string {
  try {
    return decodeURIComponent(part);
  } catch {
    return part;
  }
}

/** The address of a page; `readRoute` reads it back. */
export function addressOf(route: Route): string {
  switch (route.page) {
    case 'floor':
      return `/floor${queryOf({ span: route.span, cell: route.cell })}`;
    case 'ahead':
      return `/ahead${queryOf({ cell: route.cell })}`;
    case 'spindle':
      return `/spindle/${encodeURIComponent(route.spindleId)}${queryOf({ span: route.span, ...route.choices })}`;
    case 'assembly':
      return `/assembly/${encodeURIComponent(route.assemblyId)}${queryOf({ ...route.choices })}`;
    case 'record':
      return `/assembly/${encodeURIComponent(route.assemblyId)}/record`;
    case 'holds':
      return `/holds${queryOf({ list: route.list === 'open' ? undefined : route.list })}`;
    case 'hold':
      return `/holds/${encodeURIComponent(route.holdId)}`;
    case 'tag':
      return `/holds/${encodeURIComponent(route.holdId)}/tag`;
    case 'gate':
      return `/gate${queryOf({ spindle: route.spindleId, assembly: route.assemblyId, speed: route.speed })}`;
    case 'assemblies':
    case 'headroom':
    case 'intake':
    case 'recording':
    case 'try-out':
      return `/${route.page}${queryOf({ ...route.choices })}`;
    case 'tool-room':
    case 'plant':
    case 'plants':
    case 'sign-in':
    case 'first-sign-in':
      return `/${route.page}`;
    case 'limits':
      return `/limits${queryOf({ cell: route.cell, find: route.find, only: route.only })}`;
    case 'acts':
      return `/record${queryOf({ by: route.by, about: route.about, kind: route.kind, from: route.from, to: route.to })}`;
    case 'month':
      return `/month${queryOf({ month: route.month })}`;
    case 'report':
      return `/spindle/${encodeURIComponent(route.spindleId)}/report`;
    case 'unknown':
      return route.path;
  }
}

function queryOf(fields: Readonly<Record<string, string | undefined>>): string {
  const query = new URLSearchParams();
  for (const [name, value] of Object.entries(fields)) if (value !== undefined) query.set(name, value);
  // Times of day are read more easily with their colons, and a query may have them.
  return query.size === 0 ? '' : `?${query.toString().replaceAll('%3A', ':')}`;
}

/** The same page with something else chosen; a page that has nothing to choose stays as it is. */
export function withChoices(route: Route, changes: ChoiceChanges): Route {
  if (!choosing(route)) return route;
  const { choices = NOTHING_CHOSEN, ...bare } = route;
  const next = changed(choices, changes);
  return Object.keys(next).length === 0 ? bare : { ...bare, choices: next };
}

const choosing = (route: Route): route is Extract<Route, { readonly page: ChoosingPage }> => isChoosing(route.page);

/** What the search of an address says that its page does not understand, as it stands there: "month=2026-13". */
export function leftAside(search: string, route: Route): readonly string[] {
  const [, read = ''] = addressOf(route).split('?');
  const understood = new URLSearchParams(read);
  return [...new URLSearchParams(search)].flatMap(([name, value]) => {
    const text = value.trim();
    if (text === '' || text === understood.get(name)?.trim()) return [];
    return route.page === 'holds' && name === 'list' && text === HOLD_LISTS[0] ? [] : [`${name}=${text}`];
  });
}

export const spindleAddress = (spindleId: string): string => addressOf({ page: 'spindle', spindleId });
export const assemblyAddress = (assemblyId: string): string => addressOf({ page: 'assembly', assemblyId });
export const holdAddress = (holdId: string): string => addressOf({ page: 'hold', holdId });
