// Who may come in and what they may do: people with roles and sessions, devices with one credential each, and a record of it.
export { openAccess, type AccessSettings } from './open.ts';
export { createAccess, type AccessParts } from './store.ts';
export { postgresTables } from './postgres.ts';
export { sqliteTables } from './sqlite.ts';
export type { Tables, Statement, Row } from './tables.ts';
export { ACCESS_LIMITS, type AccessLimits } from './limits.ts';
export type {
  AccessChange,
  AccessEvent,
  AccessStore,
  Changed,
  DeviceCredential,
  DeviceView,
  Enrolled,
  FirstSignIn,
  Invited,
  Joined,
  LogLine,
  PasswordChanged,
  Person,
  RefusalCode,
  Refused,
  SignedIn,
  UserView,
  Wait,
} from './faces.ts';
export { PASSWORD_LENGTH_MIN, PASSWORD_LENGTH_MAX } from './password-rules.ts';
