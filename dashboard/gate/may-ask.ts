// Whether somebody may ask the gate: nobody else is shown a way to it.
import { MAY_ASK_GATE, type Role } from '../../shared/rights.ts';

export function mayAskGate(person: { readonly roles: readonly Role[] } | undefined): boolean {
  return person?.roles.some((role) => MAY_ASK_GATE.includes(role)) ?? false;
}
