// Whether a request comes from the device that it names: HTTP Basic (RFC 7617) with the device's own secret, and no guessing.
import type { FastifyRequest } from 'fastify';
import type { AccessStore, DeviceCredential } from '../access/index.ts';
import type { GatewayLimits } from './limits.ts';
import { HttpProblem } from './problems.ts';

const MINUTE_MS = 60_000;
/** Beyond, all are forgotten: a guesser with so many addresses is not slowed down by counting. */
const KEYS_MAX = 10_000;

interface Window {
  failures: number;
  readonly endsAtMs: number;
}

type SecretLimits = Pick<GatewayLimits, 'secretsPerDevicePerMinuteMax' | 'secretsPerAddressPerMinuteMax'>;

export class DeviceSecrets {
  readonly #access: Pick<AccessStore, 'checkDevice' | 'record'>;
  readonly #limits: SecretLimits;
  readonly #windows = new Map<string, Window>();

  constructor(access: Pick<AccessStore, 'checkDevice' | 'record'>, limits: SecretLimits) {
    this.#access = access;
    this.#limits = limits;
  }

  /** Throws the problem that ends the request. */
  async check(request: FastifyRequest, device: string): Promise<DeviceCredential> {
    const { ip } = request;
    const ceilings = [
      [`${ip} ${device}`, this.#limits.secretsPerDevicePerMinuteMax],
      [ip, this.#limits.secretsPerAddressPerMinuteMax],
    ] as const;
    const now = performance.now();
    const over = ceilings.flatMap(([key, max]) => {
      const window = this.#windows.get(key);
      return window !== undefined && window.endsAtMs > now && window.failures >= max ? [window.endsAtMs] : [];
    });
    if (over.length > 0) {
      throw new HttpProblem('too-many', { retryAfterS: Math.ceil((Math.max(...over) - now) / 1000) });
    }
    const said = basicOf(request);
    // Counted before it is looked up: a burst of tries at once gets no more than tries one by one.
    for (const [key] of ceilings) this.#count(key, now, 1);
    const credential = said?.name === device ? await this.#access.checkDevice(device, said.secret) : undefined;
    if (credential === undefined) {
      await this.#access.record({ who: device, what: 'sign-in-refused', subject: device, from: ip });
      throw new HttpProblem('wrong-secret');
    }
    for (const [key] of ceilings) this.#count(key, now, -1);
    return credential;
  }

  #count(key: string, now: number, step: 1 | -1): void {
    const window = this.#windows.get(key);
    if (window !== undefined && window.endsAtMs > now) {
      window.failures = Math.max(0, window.failures + step);
      return;
    }
    if (step < 0) return;
    if (this.#windows.size >= KEYS_MAX) this.#windows.clear();
    this.#windows.set(key, { failures: step, endsAtMs: now + MINUTE_MS });
  }
}

function basicOf({ headers }: FastifyRequest): { readonly name: string; readonly secret: string } | undefined {
  const encoded = /^basic +([A-Za-z0-9+/=]+)$/i.exec(headers.authorization ?? '')?.[1];
  if (encoded === undefined) return undefined;
  const text = Buffer.from(encoded, 'base64').toString('utf8');
  const colon = text.indexOf(':');
  return colon < 0 ? undefined : { name: text.slice(0, colon), secret: text.slice(colon + 1) };
}
