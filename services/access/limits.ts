// Every limit of access under its name; a plant may set others.
import { MILLISECONDS_A_DAY, MILLISECONDS_A_MINUTE, MILLISECONDS_AN_HOUR } from '../../shared/time.ts';

export interface AccessLimits {
  /** A session that nobody uses ends after this; watching a page that refreshes itself is not use. */
  readonly sessionIdleMs: number;
  readonly sessionAbsoluteMs: number;
  readonly firstSignInMs: number;
  readonly invitationMs: number;
  /** Wrong tries within the window, from one address for one name, from one address, and for one name from anywhere. */
  readonly triesWindowMs: number;
  readonly triesPerNameAndAddressMax: number;
  readonly triesPerAddressMax: number;
  readonly triesPerNameMax: number;
  /** N of scrypt for new passwords; each hash carries the one it was made with. */
  readonly passwordCost: number;
  /** Password hashes worked on or waiting at once: each takes 32 MiB and a quarter of a second. */
  readonly hashesAtOnceMax: number;
  readonly hashesWaitingMax: number;
  readonly rotationOverlapMs: number;
  readonly logKeptMs: number;
}

export const ACCESS_LIMITS: AccessLimits = {
  sessionIdleMs: 12 * MILLISECONDS_AN_HOUR,
  sessionAbsoluteMs: 7 * MILLISECONDS_A_DAY,
  firstSignInMs: 30 * MILLISECONDS_A_MINUTE,
  invitationMs: 24 * MILLISECONDS_AN_HOUR,
  triesWindowMs: 15 * MILLISECONDS_A_MINUTE,
  triesPerNameAndAddressMax: 5,
  triesPerAddressMax: 30,
  triesPerNameMax: 60,
  passwordCost: 2 ** 15,
  hashesAtOnceMax: 2,
  hashesWaitingMax: 16,
  rotationOverlapMs: MILLISECONDS_A_DAY,
  logKeptMs: 400 * MILLISECONDS_A_DAY,
};
