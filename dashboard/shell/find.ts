// What a typed or scanned text names: a hold, a spindle, an assembly, or an address of ours from a tag's code. Pure.
import type { Picture } from '../feed-fold.ts';
import { readRoute, type Route } from '../router.ts';

const HOLD_ID = /^H-\d+-\d+$/i;
const SPACES = /\s+/g;

export function whatIsNamed(text: string, picture: Picture | undefined): Route | undefined {
  const id = text.trim();
  if (id === '') return undefined;
  const scanned = routeInAddress(id);
  if (scanned !== undefined) return scanned;
  const plain = id.replace(SPACES, '-');
  if (HOLD_ID.test(plain)) return { page: 'hold', holdId: plain.toUpperCase() };
  const spindleId = spindleNamed(plain, picture);
  // What is no spindle is looked up as an assembly, whose page says so when nobody knows it.
  return spindleId === undefined
    ? { page: 'assembly', assemblyId: assemblyNamed(plain, picture) }
    : { page: 'spindle', spindleId };
}

export function spindleNamed(id: string, picture: Picture | undefined): string | undefined {
  return sameIn(picture?.spindles.keys() ?? [], id);
}

/** The id as it is written elsewhere, where it is known from what is loaded or on hold. */
export function assemblyNamed(id: string, picture: Picture | undefined): string {
  const loaded = [...(picture?.spindles.values() ?? [])].flatMap((row) =>
    row.loaded === undefined ? [] : [row.loaded.assemblyId],
  );
  const held = [...(picture?.holds.values() ?? [])].flatMap((hold) =>
    hold.subject.kind === 'assembly' ? [hold.subject.id] : [],
  );
  return sameIn([...loaded, ...held], id) ?? id;
}

/** The one among the ids that is the same whatever the case; the one in the same case first. */
export function sameIn(ids: Iterable<string>, id: string): string | undefined {
  const wanted = id.trim().toLowerCase();
  const same = [...ids].filter((known) => known.toLowerCase() === wanted);
  return same.find((known) => known === id) ?? same[0];
}

function routeInAddress(text: string): Route | undefined {
  if (!/^https?:\/\//i.test(text) || !URL.canParse(text)) return undefined;
  // The host is left out of account: a tag printed at another address of the same plant still opens its hold here.
  const { pathname, search } = new URL(text);
  const route = readRoute(pathname, search);
  return route.page === 'unknown' ? undefined : route;
}
