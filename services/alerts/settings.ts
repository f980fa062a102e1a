// What alerts are told at start, with every limit under its name.

export interface WebhookSettings {
  /** Its name on screen and in notice ids: 1 to 24 letters, digits or hyphens. */
  readonly channel: string;
  /** http or https, without a name or password in it; never followed elsewhere. */
  readonly url: string;
  /** Holds the key (hex) that signs this channel's notices; made with mode 0600 where it does not exist. */
  readonly keyFile: string;
}

export interface MailSettings {
  readonly channel: string;
  /** smtp or smtps, with a user where the server asks for one; never with a password in it. */
  readonly server: string;
  readonly passwordFile?: string | undefined;
  readonly caFile?: string | undefined;
  readonly from: string;
  /** `role=address,address; all=address`. */
  readonly to: string;
}

export interface AlertSettings {
  readonly plant: string;
  readonly webhooks: readonly WebhookSettings[];
  readonly mail?: MailSettings;
  /** Address of the dashboard, for a link to the hold; left out where people reach it under no one name. */
  readonly dashboard?: string;
  readonly limits?: Partial<AlertLimits>;
}

export interface AlertLimits {
  /** An answer must be there, headers and all, within this. */
  readonly answerWithinMs: number;
  /** Wait after the first failed try; doubled after each further one. */
  readonly firstWaitMs: number;
  readonly longestWaitMs: number;
  /** Tries of one notice; after the last one it is given up, on record. */
  readonly attemptsMax: number;
  /** Notices under way at one time on one channel. */
  readonly inFlightMax: number;
  /** Holds watched at one time; beyond it the list is read again once half of them are done. */
  readonly holdsMax: number;
  /** The end of a hold is not told later than this. */
  readonly endToldWithinMs: number;
  /** How long close() waits for what is under way before it breaks it off. */
  readonly closeWithinMs: number;
  /** Of an answer, as much is read as helps a person; the rest is not. */
  readonly answerBytesMax: number;
}

export const ALERT_LIMITS: AlertLimits = {
  answerWithinMs: 10_000,
  firstWaitMs: 5000,
  longestWaitMs: 30 * 60_000,
  attemptsMax: 16,
  inFlightMax: 4,
  holdsMax: 5000,
  endToldWithinMs: 24 * 3_600_000,
  closeWithinMs: 5000,
  answerBytesMax: 2048,
};

/** A notice id is `<hold>-<state>-<channel>` and has room for 80 characters. */
export const CHANNEL_NAME_PATTERN = /^[A-Za-z0-9-]{1,24}$/;
export const WEBHOOKS_MAX = 8;

/** The address to send to, or what is wrong with it in words. */
export function webhookUrl(text: string): URL | string {
  if (!URL.canParse(text)) return `${JSON.stringify(text)} is not an address`;
  const url = new URL(text);
  if (url.protocol !== 'http:' && url.protocol !== 'https:') return `expected http or https, got ${url.protocol}`;
  if (url.username !== '' || url.password !== '') return 'expected an address without a name or password in it';
  return url;
}

/** All that is wrong with the settings, one sentence each. */
export function settingsFaults(settings: AlertSettings): readonly string[] {
  const faults: string[] = [];
  if (settings.webhooks.length > WEBHOOKS_MAX) faults.push(`expected at most ${WEBHOOKS_MAX} webhooks`);
  const seen = new Set<string>();
  for (const { channel, url } of settings.webhooks) {
    if (!CHANNEL_NAME_PATTERN.test(channel))
      faults.push(`webhook ${JSON.stringify(channel)}: expected 1 to 24 letters, digits or hyphens`);
    if (seen.has(channel.toLowerCase())) faults.push(`webhook ${channel}: the name is used twice`);
    seen.add(channel.toLowerCase());
    const address = webhookUrl(url);
    if (typeof address === 'string') faults.push(`webhook ${channel}: ${address}`);
  }
  return faults;
}
