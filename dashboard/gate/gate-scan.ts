// What a scanner typed at the gate: the id of a spindle or an assembly, the address of a page of ours, or the tag of a hold. Pure.
import type { HoldView } from '../../shared/views.ts';
import type { Picture } from '../feed-fold.ts';
import { assemblyNamed, spindleNamed, whatIsNamed } from '../shell/find.ts';
import type { GateFields } from './gate-question.ts';

type Filled = Partial<Pick<GateFields, 'spindleId' | 'assemblyId'>>;

export type Scanned =
  | { readonly kind: 'nothing' }
  | { readonly kind: 'named'; readonly filled: Filled }
  /** A hold's tag: what it holds is filled in while the hold is open. */
  | { readonly kind: 'tag'; readonly holdId: string; readonly filled: Filled }
  /** An address that names nothing that the gate is asked about. */
  | { readonly kind: 'no-use'; readonly text: string };

const WEB_ADDRESS = /^https?:\/\//i;
/** The path alone reads as on this page's own address. */
const ANY_ORIGIN = 'http://plant.invalid';

export function scanned(text: string, picture: Picture | undefined): Scanned {
  const id = text.trim();
  if (id === '') return { kind: 'nothing' };
  const isPath = id.startsWith('/');
  const isAddress = isPath || WEB_ADDRESS.test(id);
  const route = whatIsNamed(isPath ? `${ANY_ORIGIN}${id}` : id, picture);
  if (route?.page === 'hold' || route?.page === 'tag') {
    const { holdId } = route;
    return { kind: 'tag', holdId, filled: filledBy(heldBy(holdId, picture)) };
  }
  if (!isAddress) return { kind: 'named', filled: filledById(id, picture) };
  // What nobody knows comes back as an assembly of that name: an address is none.
  if (route?.page === 'assembly' && !WEB_ADDRESS.test(route.assemblyId))
    return { kind: 'named', filled: { assemblyId: assemblyNamed(route.assemblyId, picture) } };
  if (route?.page === 'spindle')
    return { kind: 'named', filled: { spindleId: spindleNamed(route.spindleId, picture) ?? route.spindleId } };
  return { kind: 'no-use', text: id };
}

/** What an open hold holds. */
export function heldBy(holdId: string, picture: Picture | undefined): HoldView['subject'] | undefined {
  const hold = picture?.holds.get(holdId);
  return hold?.open === true ? hold.subject : undefined;
}

function filledBy(subject: HoldView['subject'] | undefined): Filled {
  if (subject?.kind === 'spindle') return { spindleId: subject.id };
  return subject?.kind === 'assembly' ? { assemblyId: subject.id } : {};
}

/** A hand scanner types one id after the other: a spindle's goes to the spindle, anything else is an assembly. */
function filledById(id: string, picture: Picture | undefined): Filled {
  const spindleId = spindleNamed(id, picture);
  return spindleId === undefined ? { assemblyId: assemblyNamed(id, picture) } : { spindleId };
}
