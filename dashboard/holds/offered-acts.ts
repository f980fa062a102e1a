// Which acts a hold admits now, and which of them whoever looks may do. Pure.
import { ACTS_IN_STATE } from '../../shared/holds.ts';
import { MAY_ACT, type HoldActName, type Role } from '../../shared/rights.ts';
import type { HoldView } from '../../shared/views.ts';

export interface OfferedAct {
  readonly act: HoldActName;
  readonly mine: boolean;
}

/**
 * To take what one has already changes nothing. A release by hand is offered only where a condition leaves it to a person;
 * a deviation never from a marked maximum; its second name to anybody but who asked for it.
 */
export function offeredActs(
  hold: Pick<HoldView, 'state' | 'reason' | 'conditions' | 'takenBy' | 'secondName'>,
  person: { readonly name: string; readonly roles: readonly Role[] },
): OfferedAct[] {
  const releasable = hold.conditions.some(({ byHand }) => byHand);
  return ACTS_IN_STATE[hold.state]
    .filter((act) => act !== 'release' || releasable)
    .filter((act) => act !== 'take' || hold.takenBy !== person.name)
    .filter((act) => act !== 'deviate' || (hold.reason !== 'speed-above-marked' && hold.secondName === undefined))
    .filter((act) => act !== 'confirm' || isAnothers(hold, person))
    .map((act) => ({ act, mine: MAY_ACT[act].some((role) => person.roles.includes(role)) }));
}

const isAnothers = ({ secondName }: Pick<HoldView, 'secondName'>, { name }: { readonly name: string }): boolean =>
  secondName !== undefined && secondName.askedBy !== name;
