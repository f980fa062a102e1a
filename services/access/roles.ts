// Roles as they stand in the tables: a JSON list, read with what this version knows of roles.
import { ROLES, type Role } from '../../shared/ids.ts';
import { textOf, type Row } from './tables.ts';

/** In the order of the closed list, each once. */
export function rolesText(roles: readonly Role[]): string {
  return JSON.stringify(ROLES.filter((role) => roles.includes(role)));
}

export function rolesOf(row: Row): readonly Role[] {
  const named: unknown = JSON.parse(textOf(row, 'roles'));
  return Array.isArray(named) ? ROLES.filter((role) => named.includes(role)) : [];
}
