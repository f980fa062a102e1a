// One try of one notice: a signed POST, bounded in time and in what is read of the answer, never sent on elsewhere.
import type { Clock } from '../../shared/time.ts';
import type { HoldView } from '../../shared/views.ts';
import { holdNotice, testNotice, type Notice, type NoticeOf } from './notice.ts';
import type { AlertLimits } from './settings.ts';
import { SIGNATURE_HEADERS, signatureOf } from './signature.ts';
import type { After } from './timer.ts';
import type { Delivery, Way } from './way.ts';

export interface WebhookPorts {
  readonly clock: Clock;
  readonly fetch: typeof fetch;
  readonly after: After;
  readonly limits: Pick<AlertLimits, 'answerWithinMs' | 'answerBytesMax'>;
}

const DETAIL_LENGTH_MAX = 300;

export class Webhook implements Way {
  /** Where to, as it may be shown: addresses often carry a secret in their path or query. */
  readonly to: string;
  readonly #url: URL;
  readonly #key: Uint8Array;
  readonly #ports: WebhookPorts;

  constructor(url: URL, key: Uint8Array, ports: WebhookPorts) {
    this.#url = url;
    this.#key = key;
    this.#ports = ports;
    this.to = `${url.origin}${url.pathname === '/' && url.search === '' ? '' : '/…'}`.slice(0, 200);
  }

  toOf(): string {
    return this.to;
  }

  tell(hold: HoldView, about: NoticeOf, broken: AbortSignal): Promise<Delivery> {
    return this.send(holdNotice(hold, about), broken);
  }

  test(plant: string, channel: string, at: number, broken: AbortSignal): Promise<Delivery> {
    return this.send(testNotice(plant, channel, at), broken);
  }

  /** Never rejects: what goes wrong out there is a value. `broken` ends it early. */
  async send(notice: Notice, broken: AbortSignal): Promise<Delivery> {
    const { answerWithinMs } = this.#ports.limits;
    const late = new AbortController();
    const cancel = this.#ports.after(answerWithinMs, () => late.abort());
    try {
      const signal = AbortSignal.any([late.signal, broken]);
      return await this.#post(notice, signal);
    } catch (error) {
      if (broken.aborted) return failed('broken off: the service was stopping');
      return failed(late.signal.aborted ? `no answer within ${answerWithinMs / 1000} s` : whyNot(error));
    } finally {
      cancel();
    }
  }

  async #post({ noticeId, body }: Notice, signal: AbortSignal): Promise<Delivery> {
    const timestamp = String(Math.floor(this.#ports.clock.now() / 1000));
    const response = await this.#ports.fetch(this.#url, {
      method: 'POST',
      redirect: 'manual',
      headers: {
        'content-type': 'application/cloudevents+json; charset=utf-8',
        'user-agent': 'counterpoise',
        [SIGNATURE_HEADERS.timestamp]: timestamp,
        [SIGNATURE_HEADERS.signature]: signatureOf(this.#key, timestamp, body),
        [SIGNATURE_HEADERS.notice]: noticeId,
      },
      body,
      signal,
    });
    if (response.ok) {
      await response.body?.cancel();
      return { ok: true, detail: `answered ${response.status}` };
    }
    if (response.status >= 300 && response.status < 400) {
      await response.body?.cancel();
      return failed(
        `answered ${response.status}: sending on to ${elsewhere(response, this.#url)} is refused; set the final address`,
      );
    }
    const said = await beginning(response, this.#ports.limits.answerBytesMax);
    return failed(`answered ${response.status}${said === '' ? '' : `: ${said}`}`);
  }
}

function failed(detail: string): Delivery {
  return { ok: false, detail: detail.slice(0, DETAIL_LENGTH_MAX) };
}

/** The first bytes of an answer as one printable line; the rest is never read. */
async function beginning(response: Response, bytesMax: number): Promise<string> {
  if (response.body === null) return '';
  const reader: ReadableStreamDefaultReader<Uint8Array> = response.body.getReader();
  const chunks: Uint8Array[] = [];
  let bytes = 0;
  while (bytes < bytesMax) {
    const { done, value } = await reader.read();
    if (done) break;
    chunks.push(value);
    bytes += value.length;
  }
  await reader.cancel();
  const text = new TextDecoder().decode(Buffer.concat(chunks).subarray(0, bytesMax));
  return text.replace(/[\p{C}\s]+/gu, ' ').trim();
}

function elsewhere(response: Response, from: URL): string {
  const location = response.headers.get('location') ?? '';
  return URL.canParse(location, from.href) ? new URL(location, from.href).origin : 'nowhere';
}

const WORDS: Record<string, string> = {
  ECONNREFUSED: 'nothing listens there (connection refused)',
  ECONNRESET: 'the connection was cut',
  ENOTFOUND: 'the host name is not known',
  EAI_AGAIN: 'the host name could not be looked up',
  EHOSTUNREACH: 'the host cannot be reached',
  ENETUNREACH: 'the network cannot be reached',
  UND_ERR_SOCKET: 'the connection was cut',
};

/** fetch says only "fetch failed"; why stands in its cause. */
function whyNot(error: unknown): string {
  const cause = error instanceof Error && error.cause instanceof Error ? error.cause : error;
  const code = cause instanceof Error && 'code' in cause ? String(cause.code) : undefined;
  if (code !== undefined) return WORDS[code] ?? `could not be sent (${code})`;
  return `could not be sent (${cause instanceof Error ? cause.message : String(cause)})`;
}
