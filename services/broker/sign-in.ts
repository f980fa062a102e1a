// Who may connect: a name, its secret, a client id equal to the name, and nothing to be gained by guessing.
import type { BrokerPorts, Credential } from './ports.ts';
import type { RefusalReason } from './refusals.ts';
import type { BrokerLimits } from './settings.ts';

/** CONNACK return codes of MQTT 3.1.1, 3.2.2.3. */
export type ReturnCode = 2 | 3 | 4 | 5;

export interface SignInRefused {
  readonly returnCode: ReturnCode;
  readonly reason: RefusalReason;
  readonly detail: string;
}

const WINDOW_MS = 60_000;
const KEYS_MAX = 10_000;

interface Window {
  failures: number;
  readonly endsAtMs: number;
}

/** Counts wrong secrets by address and by name, and lets only so many be checked at a time. */
export class SignIn {
  readonly #limits: BrokerLimits;
  readonly #ports: BrokerPorts;
  readonly #windows = new Map<string, Window>();
  readonly #queue: (() => void)[] = [];
  #running = 0;

  constructor(limits: BrokerLimits, ports: BrokerPorts) {
    this.#limits = limits;
    this.#ports = ports;
  }

  async check(
    device: string,
    secret: Uint8Array,
    address: string,
    nowMs: () => number,
  ): Promise<Credential | SignInRefused> {
    const refused = this.#tooMany(device, address, nowMs());
    if (refused !== undefined) return refused;
    await this.#turn();
    try {
      // Others of the same address may have failed while this one waited.
      const refusedMeanwhile = this.#tooMany(device, address, nowMs());
      if (refusedMeanwhile !== undefined) return refusedMeanwhile;
      const credential = await this.#ports.authenticate(device, secret);
      if (credential !== undefined && credential.device === device) return credential;
      this.#failed(device, address, nowMs());
      return { returnCode: 4, reason: 'wrong-credential', detail: `from ${address}` };
    } catch (error) {
      return { returnCode: 3, reason: 'authentication-failed', detail: String(error) };
    } finally {
      const next = this.#queue.shift();
      if (next === undefined) this.#running -= 1;
      else next();
    }
  }

  async #turn(): Promise<void> {
    if (this.#running < this.#limits.authenticationsAtOnce) this.#running += 1;
    // Whoever ends hands its place over.
    else await new Promise<void>((resolve) => this.#queue.push(resolve));
  }

  #tooMany(device: string, address: string, nowMs: number): SignInRefused | undefined {
    const byDevice = this.#failures(`${address} ${device}`, nowMs);
    const byAddress = this.#failures(address, nowMs);
    if (byDevice < this.#limits.failuresPerDevicePerMinute && byAddress < this.#limits.failuresPerAddressPerMinute) {
      return undefined;
    }
    return { returnCode: 3, reason: 'too-many-failures', detail: `from ${address}` };
  }

  #failures(key: string, nowMs: number): number {
    const window = this.#windows.get(key);
    return window === undefined || window.endsAtMs <= nowMs ? 0 : window.failures;
  }

  #failed(device: string, address: string, nowMs: number): void {
    for (const key of [`${address} ${device}`, address]) {
      const window = this.#windows.get(key);
      if (window !== undefined && window.endsAtMs > nowMs) {
        window.failures += 1;
        continue;
      }
      this.#windows.delete(key);
      if (this.#windows.size >= KEYS_MAX) this.#forgetOldest();
      this.#windows.set(key, { failures: 1, endsAtMs: nowMs + WINDOW_MS });
    }
  }

  #forgetOldest(): void {
    for (const key of this.#windows.keys()) {
      this.#windows.delete(key);
      return;
    }
  }
}
