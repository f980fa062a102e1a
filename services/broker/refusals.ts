// The closed list of reasons for which a device is turned away.

export type RefusalReason =
  | 'connections-full'
  | 'connect-too-late'
  | 'not-mqtt'
  | 'no-credential'
  | 'client-id-not-device'
  | 'will-not-allowed'
  | 'too-many-failures'
  | 'wrong-credential'
  | 'authentication-failed'
  | 'packet-too-large'
  | 'exactly-once-unsupported'
  | 'packet-unfinished'
  | 'keepalive-elapsed'
  | 'topic-not-allowed'
  | 'subscription-not-allowed'
  | 'subscriber-too-slow'
  | 'taken-over'
  | 'not-stored'
  | 'connection-failed';

export interface Refusal {
  readonly device?: string;
  readonly reason: RefusalReason;
  /** Words of the device in it are quoted and cut. */
  readonly detail: string;
}

const QUOTED_CHARACTERS_MAX = 120;

/** What a device sent, made harmless for a line of a log. */
export function quoted(text: string): string {
  const cut = text.length > QUOTED_CHARACTERS_MAX ? `${text.slice(0, QUOTED_CHARACTERS_MAX)}…` : text;
  return JSON.stringify(cut);
}
