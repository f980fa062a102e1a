// Who may ask the gate: whoever loads assemblies or answers for them. Nobody else is shown a way to it.
import type { Role } from '../../shared/rights.ts';

export const MAY_ASK_GATE: readonly Role[] = ['operator', 'tool-room', 'maintenance', 'engineer', 'admin'];

export function mayAskGate(person: { readonly roles: readonly Role[] } | undefined): boolean {
  return person?.roles.some((role) => MAY_ASK_GATE.includes(role)) ?? false;
}
