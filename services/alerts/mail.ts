// One try of one mail: over TLS wherever it leaves this computer, bounded in time, to those who are to know.
import { readFileSync } from 'node:fs';
import { createTransport } from 'nodemailer';
import type { HoldView } from '../../shared/views.ts';
import { mailTo, type Addresses } from './mail-to.ts';
import { mailText, testMailText, type MailText } from './mail-text.ts';
import type { NoticeOf } from './notice.ts';
import type { AlertLimits } from './settings.ts';
import type { After } from './timer.ts';
import type { Delivery, Way } from './way.ts';

export interface MailServer {
  readonly host: string;
  readonly port: number;
  /** `implicit`: TLS from the first byte. `starttls`: no mail without it. `plain`: loopback only. */
  readonly tls: 'implicit' | 'starttls' | 'plain';
  readonly user?: string;
  readonly password?: string;
  /** PEM of who signed the server's certificate, where that is the plant itself. */
  readonly ca?: string;
}

export interface MailPorts {
  readonly after: After;
  readonly limits: Pick<AlertLimits, 'answerWithinMs'>;
}

const SMTP_PORT = 587;
const SMTPS_PORT = 465;
const DETAIL_LENGTH_MAX = 300;

/** `smtps://user@host:465` or `smtp://host`, or what is wrong with it; the password stands in a file. */
export function mailServer(
  text: string,
  files: { readonly passwordFile?: string | undefined; readonly caFile?: string | undefined },
): MailServer | string {
  if (!URL.canParse(text)) return `${JSON.stringify(text)} is not an address`;
  const url = new URL(text);
  if (url.protocol !== 'smtp:' && url.protocol !== 'smtps:') return `expected smtp or smtps, got ${url.protocol}`;
  if (url.hostname === '') return 'expected the name of the mail server';
  if (url.password !== '') return 'expected no password in the address: name a file with it';
  const user = decodeURIComponent(url.username);
  if ((user === '') !== (files.passwordFile === undefined))
    return 'a user and a file with the password belong together';
  const secure = url.protocol === 'smtps:';
  try {
    return {
      host: url.hostname.replace(/^\[|\]$/g, ''),
      port: url.port === '' ? (secure ? SMTPS_PORT : SMTP_PORT) : Number(url.port),
      tls: secure ? 'implicit' : isLoopback(url.hostname) ? 'plain' : 'starttls',
      ...(user === '' ? {} : { user }),
      ...(files.passwordFile === undefined ? {} : { password: readFileSync(files.passwordFile, 'utf8').trim() }),
      ...(files.caFile === undefined ? {} : { ca: readFileSync(files.caFile, 'utf8') }),
    };
  } catch (error) {
    return error instanceof Error ? error.message : String(error);
  }
}

function isLoopback(host: string): boolean {
  return host === 'localhost' || host === '[::1]' || /^127(?:\.\d+){3}$/.test(host);
}

type Sent = Omit<MailText, 'inReplyTo'> & Partial<Pick<MailText, 'inReplyTo'>>;

export class Mail implements Way {
  readonly to: string;
  readonly #server: MailServer;
  readonly #from: string;
  readonly #addresses: Addresses;
  readonly #ports: MailPorts;

  constructor(server: MailServer, { from, to }: { readonly from: string; readonly to: Addresses }, ports: MailPorts) {
    this.#server = server;
    this.#from = from;
    this.#addresses = to;
    this.#ports = ports;
    this.to = `mail by ${server.host}`;
  }

  toOf(hold: HoldView, { reason }: Pick<NoticeOf, 'reason'>): string {
    return mailTo(hold, reason, this.#addresses).words || 'nobody';
  }

  async tell(hold: HoldView, about: NoticeOf, broken: AbortSignal): Promise<Delivery> {
    const { addresses } = mailTo(hold, about.reason, this.#addresses);
    // Nobody of those roles has an address: that is how the plant set it, and no fault to try again.
    if (addresses.length === 0) return { ok: true, detail: 'no address is set for those who answer it' };
    return this.#send(mailText(hold, about), addresses, broken);
  }

  test(plant: string, channel: string, at: number, broken: AbortSignal): Promise<Delivery> {
    const everybody = [...new Set(Object.values(this.#addresses).flat())];
    return this.#send(testMailText(plant, channel, at), everybody, broken);
  }

  /** Never rejects: what goes wrong out there is a value. `broken` ends it early. */
  async #send(mail: Sent, to: readonly string[], broken: AbortSignal): Promise<Delivery> {
    const { answerWithinMs } = this.#ports.limits;
    const transport = createTransport(transportOf(this.#server, answerWithinMs));
    const late = new AbortController();
    const cancel = this.#ports.after(answerWithinMs, () => late.abort());
    try {
      const sent = transport.sendMail({ ...headersOf(mail), from: this.#from, to: [...to], text: mail.text });
      // Whatever comes of it after the race is no business of this try any more.
      sent.catch(() => undefined);
      return deliveryOf(await Promise.race([sent, ended(AbortSignal.any([late.signal, broken]))]));
    } catch (error) {
      if (broken.aborted) return failed('broken off: the service was stopping');
      return failed(late.signal.aborted ? `no answer within ${answerWithinMs / 1000} s` : whyNot(error));
    } finally {
      cancel();
      transport.close();
    }
  }
}

function transportOf({ host, port, tls, user, password, ca }: MailServer, timeoutMs: number) {
  return {
    host,
    port,
    secure: tls === 'implicit',
    requireTLS: tls === 'starttls',
    ignoreTLS: tls === 'plain',
    connectionTimeout: timeoutMs,
    greetingTimeout: timeoutMs,
    socketTimeout: timeoutMs,
    disableFileAccess: true,
    disableUrlAccess: true,
    ...(user === undefined ? {} : { auth: { user, pass: password ?? '' } }),
    ...(ca === undefined ? {} : { tls: { ca } }),
  };
}

function headersOf({ subject, messageId, inReplyTo }: Sent) {
  return {
    subject,
    messageId,
    ...(inReplyTo === undefined ? {} : { inReplyTo, references: [inReplyTo] }),
    // An answering machine has nothing to say to a program (RFC 3834).
    headers: { 'auto-submitted': 'auto-generated' },
  };
}

function ended(signal: AbortSignal): Promise<never> {
  return new Promise((_, reject) => {
    const end = (): void => reject(new Error('ended early'));
    if (signal.aborted) end();
    else signal.addEventListener('abort', end, { once: true });
  });
}

interface Accepted {
  readonly accepted?: readonly unknown[];
  readonly rejected?: readonly unknown[];
  readonly response?: string;
}

/** Where the server took it for some only, it is sent, and the others are told of. */
function deliveryOf({ accepted = [], rejected = [], response = '' }: Accepted): Delivery {
  const refused = rejected.length === 0 ? '' : `, refused for ${rejected.length}`;
  return { ok: accepted.length > 0, detail: plain(`taken for ${accepted.length}${refused}: ${response}`) };
}

function failed(detail: string): Delivery {
  return { ok: false, detail: plain(detail) };
}

const plain = (text: string): string =>
  text
    .replace(/[\p{C}\s]+/gu, ' ')
    .trim()
    .slice(0, DETAIL_LENGTH_MAX);

const WORDS: Readonly<Record<string, string>> = {
  ECONNREFUSED: 'nothing listens there (connection refused)',
  ENOTFOUND: 'the name of the mail server is not known',
  ECONNRESET: 'the connection was cut',
  ECONNECTION: 'the connection was cut',
  ESOCKET: 'the connection failed',
  ETIMEDOUT: 'the mail server did not answer in time',
  EDNS: 'the name of the mail server is not known',
  EAUTH: 'the mail server refused the user or the password',
  ETLS: 'the mail server does not speak TLS, and no mail leaves this computer without',
  EENVELOPE: 'the mail server refused the addresses',
};

function whyNot(error: unknown): string {
  if (!(error instanceof Error)) return `could not be sent (${String(error)})`;
  // What the network says stands within the message; the library's own code says only that it was the network.
  const network = /\b(?:ECONNREFUSED|ENOTFOUND|ECONNRESET)\b/.exec(error.message)?.[0];
  const code = network ?? ('code' in error ? String(error.code) : undefined);
  const said = 'response' in error && typeof error.response === 'string' ? error.response : error.message;
  const words = code === undefined ? undefined : WORDS[code];
  return `${words ?? 'could not be sent'}: ${said}`;
}
