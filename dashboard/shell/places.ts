// Where one can go: places in the top line, and the parts of one that has several, in a line below it.
import { say } from '../../shared/language/index.ts';
import { MAY_DECLARE_RULES } from '../../shared/rights.ts';
import type { SessionView } from '../../shared/session.ts';
import { mayAskGate } from '../gate/may-ask.ts';
import type { PageName, Route } from '../router.ts';

export interface Part {
  readonly route: Route;
  readonly word: string;
  /** Pages that belong to it. */
  readonly also: readonly PageName[];
}

export interface Place {
  readonly word: string;
  /** The first is where the place itself leads. */
  readonly parts: readonly [Part, ...Part[]];
}

const one = (route: Route, word: string, also: readonly PageName[] = []): Place => ({
  word,
  parts: [{ route, word, also: [route.page, ...also] }],
});
const part = (route: Route, word: string, also: readonly PageName[] = []): Part => ({
  route,
  word,
  also: [route.page, ...also],
});

export const PLACES: readonly Place[] = [
  one({ page: 'floor' }, say`Floor`, ['spindle']),
  one({ page: 'holds', list: 'open' }, say`Holds`, ['hold', 'tag']),
  one({ page: 'gate' }, say`Gate`),
  one({ page: 'assemblies' }, say`Assemblies`, ['assembly', 'record']),
  one({ page: 'tool-room' }, say`Tool room`),
  {
    word: say`Ahead`,
    parts: [part({ page: 'ahead' }, say`Ahead`), part({ page: 'headroom' }, say`Headroom`)],
  },
  {
    word: say`Intake`,
    parts: [part({ page: 'intake' }, say`Intake`), part({ page: 'recording' }, say`Recording`)],
  },
  {
    word: say`Plant`,
    parts: [
      part({ page: 'plant' }, say`Plant`),
      part({ page: 'limits' }, say`Limits`),
      part({ page: 'try-out' }, say`Try-out`),
      part({ page: 'acts' }, say`Record`),
      part({ page: 'month' }, say`Month`),
      part({ page: 'plants' }, say`Plants`),
    ],
  },
];

/** Nobody is shown the way to a page on which nothing is for them. */
export function mayGo(page: PageName, person: SessionView | undefined): boolean {
  if (page === 'gate') return mayAskGate(person);
  return page !== 'try-out' || (person?.roles.some((role) => MAY_DECLARE_RULES.includes(role)) ?? false);
}

export const isIn = ({ parts }: Place, page: PageName): boolean => parts.some(({ also }) => also.includes(page));

/** Of the place that a page is in, where it has several. */
export function partsBeside(page: PageName, person: SessionView | undefined): readonly Part[] {
  const parts = PLACES.find((place) => isIn(place, page))?.parts.filter(({ route }) => mayGo(route.page, person)) ?? [];
  return parts.length > 1 ? parts : [];
}
