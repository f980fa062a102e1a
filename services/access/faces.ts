// The face of access in types: what may be asked and what comes back. Trouble that is to be expected is a value with a code.
import type { DeviceKind, Role } from '../../shared/ids.ts';
import { say } from '../../shared/language/index.ts';
import type { FieldFault } from '../../shared/problem.ts';
import type { Instant } from '../../shared/time.ts';

/** Somebody signed in, as of this very request: a role taken away or a user disabled is gone at once. */
export interface Person {
  readonly name: string;
  readonly roles: readonly Role[];
  readonly signedInAt: Instant;
  /** The session is over then whatever is done with it. */
  readonly endsAt: Instant;
}

export interface UserView {
  readonly name: string;
  readonly roles: readonly Role[];
  readonly disabled: boolean;
  /** False until the one-time token was used to choose a password. */
  readonly hasPassword: boolean;
  readonly createdAt: Instant;
  readonly createdBy: string;
  readonly lastSignInAt?: Instant;
}

export interface DeviceView {
  readonly device: string;
  readonly kind: DeviceKind;
  /** Ids of the spindles it answers for; for a reader, of the subjects it may read; `*` is all of the plant. */
  readonly serves: readonly string[];
  readonly createdAt: Instant;
  readonly createdBy: string;
  readonly revokedAt?: Instant;
  /** Two while a rotation overlaps. */
  readonly secretsInForce: number;
}

/** What a device is once its secret was found right. */
export interface DeviceCredential {
  readonly device: string;
  readonly kind: DeviceKind;
  readonly serves: readonly string[];
}

export const REFUSALS = {
  'bad-name': say`The name is not one that can be used.`,
  'name-taken': say`There is already one of that name, or one that differs in capitals only.`,
  'bad-password': say`The password cannot be used.`,
  'token-over': say`The one-time token is not known, was used already, or is too old.`,
  'not-known': say`There is none of that name.`,
  'last-admin': say`The last user with the role admin cannot lose it.`,
  'no-roles': say`A user needs at least one role.`,
  revoked: say`The credential has been revoked; enrol the device anew.`,
} as const;
export type RefusalCode = keyof typeof REFUSALS;

export interface Refused {
  readonly kind: 'refused';
  readonly code: RefusalCode;
  readonly why: string;
  readonly faults?: readonly FieldFault[];
}

/** Too many tries lately, from there or for that name. */
export interface Wait {
  readonly kind: 'wait';
  readonly retryAfterS: number;
}

export type SignedIn =
  | { readonly kind: 'signed-in'; readonly token: string; readonly person: Person }
  | { readonly kind: 'wrong' }
  | Wait;
export type Joined = { readonly kind: 'signed-in'; readonly token: string; readonly person: Person } | Refused | Wait;
export type Invited =
  | { readonly kind: 'invited'; readonly user: UserView; readonly token: string; readonly endsAt: Instant }
  | Refused;
export type Changed =
  | { readonly kind: 'changed'; readonly user: UserView; readonly token?: string; readonly endsAt?: Instant }
  | Refused;
export type PasswordChanged =
  | { readonly kind: 'changed'; readonly token: string; readonly person: Person }
  | { readonly kind: 'wrong' }
  | Refused
  | Wait;
export type Enrolled =
  | { readonly kind: 'enrolled'; readonly credential: DeviceCredential; readonly secret: string }
  | Refused;

export const ACCESS_EVENTS = [
  'first-sign-in-offered',
  'signed-in',
  'sign-in-refused',
  'signed-out',
  'sessions-ended',
  'user-invited',
  'user-changed',
  'user-joined',
  'password-changed',
  'device-enrolled',
  'device-rotated',
  'device-revoked',
  'denied',
] as const;
export type AccessEvent = (typeof ACCESS_EVENTS)[number];

export interface LogLine {
  readonly at: Instant;
  readonly who: string;
  readonly what: AccessEvent;
  /** The user or device it was done to, or the address that was refused. */
  readonly subject: string;
  readonly from: string;
}

export interface FirstSignIn {
  readonly token: string;
  readonly endsAt: Instant;
  /** The file, mode 0600, that holds the token for whoever may read the data directory. */
  readonly file?: string;
}

export interface AccessStore {
  /** A one-time token for the first user; undefined once somebody can sign in. An earlier one ends with it. */
  offerFirstSignIn(): Promise<FirstSignIn | undefined>;
  hasUsers(): Promise<boolean>;
  /** Uses a one-time token to choose a name (the first user) or just a password (an invited one), and signs in. */
  join(request: { token: string; name: string; password: string; from: string }): Promise<Joined>;

  signIn(request: { name: string; password: string; from: string }): Promise<SignedIn>;
  /** Who holds this session now; `use` false looks without keeping the session alive. */
  personOf(token: string, options?: { use?: boolean }): Promise<Person | undefined>;
  signOut(token: string, from: string): Promise<void>;
  /** All sessions of the person end, the caller's gets a new token. */
  changePassword(request: { token: string; password: string; next: string; from: string }): Promise<PasswordChanged>;

  users(): Promise<readonly UserView[]>;
  invite(by: string, user: { name: string; roles: readonly Role[] }): Promise<Invited>;
  /** `reset` takes the password away and gives a one-time token to choose another. */
  changeUser(
    by: string,
    name: string,
    change: { roles?: readonly Role[]; disabled?: boolean; reset?: boolean },
  ): Promise<Changed>;
  endSessions(by: string, name: string): Promise<void>;

  devices(): Promise<readonly DeviceView[]>;
  /** The secret is shown this once. */
  enrol(by: string, device: DeviceCredential): Promise<Enrolled>;
  /** A new secret; the old one still works for a while, so that the device can be told without a gap. */
  rotate(by: string, device: string, overlapMs?: number): Promise<Enrolled>;
  revoke(by: string, device: string): Promise<boolean>;
  checkDevice(device: string, secret: string): Promise<DeviceCredential | undefined>;

  record(line: Omit<LogLine, 'at'>): Promise<void>;
  log(options: { limit: number }): Promise<readonly LogLine[]>;

  /** Tells at once when a person’s sessions or rights changed or a device was revoked or enrolled. Returns how to stop listening. */
  listen(listener: (change: AccessChange) => void): () => void;
  close(): Promise<void>;
}

export type AccessChange =
  | { readonly kind: 'person-changed'; readonly name: string }
  | { readonly kind: 'device-revoked'; readonly device: string }
  | { readonly kind: 'device-enrolled'; readonly credential: DeviceCredential };
