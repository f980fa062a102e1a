// A device that runs Eclipse Paho for Python (Debian's python3-paho-mqtt), driven from a test.
import { fileURLToPath } from 'node:url';
import { LOOPBACK } from './loopback.ts';
import type { ForeignClient, ForeignMessage } from './mosquitto-clients.ts';
import { startProgram } from './program.ts';
import { pythonProgram } from './python.ts';
import { waitFor } from './wait-for.ts';

const SCRIPT = fileURLToPath(new URL('./paho-device.py', import.meta.url));
const GOODBYE_WITHIN_MS = 5_000;

export interface PahoOptions extends ForeignClient {
  readonly clientId: string;
  readonly cleanSession?: boolean;
  readonly keepaliveSeconds?: number;
  readonly will?: { readonly topic: string; readonly payload: string; readonly qos?: 0 | 1; readonly retain?: boolean };
}

export interface PahoDevice {
  /** The broker's return code for the connection: 0 accepted, 4 bad name or password, 5 not authorised. */
  readonly connectCode: number;
  readonly messages: readonly ForeignMessage[];
  /** Resolves when the broker has acknowledged it (at QoS 0: when it was sent). */
  publish(topic: string, payload: string, options?: { readonly qos?: 0 | 1; readonly retain?: boolean }): Promise<void>;
  /** Resolves with the QoS granted; 128 means refused. */
  subscribe(topic: string, qos?: 0 | 1): Promise<number>;
  next(fits: (message: ForeignMessage) => boolean, withinMs?: number): Promise<ForeignMessage>;
  /** Resolves when the connection has been lost. */
  disconnected(): Promise<number>;
  /** Ends the device without a goodbye, so that its will is due. */
  die(): Promise<void>;
  stop(): Promise<void>;
}

type PahoEvent =
  | { readonly event: 'connected'; readonly code: number }
  | { readonly event: 'disconnected'; readonly code: number }
  | { readonly event: 'acknowledged'; readonly mid: number }
  | { readonly event: 'subscribed'; readonly mid: number; readonly granted: readonly number[] }
  | { readonly event: 'sent'; readonly tag: number; readonly mid: number }
  | ({ readonly event: 'message' } & ForeignMessage);

/** Starts the device and waits for the broker's answer to its connection. */
export async function startPaho(options: PahoOptions): Promise<PahoDevice> {
  const { cleanSession, ...rest } = options;
  const settings = JSON.stringify({ ...rest, host: LOOPBACK, clean: cleanSession ?? true });
  const program = startProgram(pythonProgram(), { args: [SCRIPT, settings] });
  const events: PahoEvent[] = [];
  const messages: ForeignMessage[] = [];
  program.onLine((line) => {
    if (!line.startsWith('{')) return;
    const event = JSON.parse(line) as PahoEvent;
    events.push(event);
    if (event.event === 'message') messages.push(event);
  });
  const seen = <K extends PahoEvent['event']>(kind: K, fits: (e: Extract<PahoEvent, { event: K }>) => boolean) =>
    waitFor(
      () => `${kind} from the Paho device; it printed:\n${program.output()}`,
      () => events.find((e): e is Extract<PahoEvent, { event: K }> => e.event === kind && fits(e as never)),
    );
  let tags = 0;
  const send = async (command: Readonly<Record<string, unknown>>): Promise<number> => {
    const tag = ++tags;
    program.write(`${JSON.stringify({ ...command, tag })}\n`);
    return (await seen('sent', (e) => e.tag === tag)).mid;
  };
  return {
    connectCode: (await seen('connected', () => true)).code,
    messages,
    publish: async (topic, payload, how = {}) => {
      const mid = await send({ do: 'publish', topic, payload, qos: how.qos ?? 1, retain: how.retain ?? false });
      await seen('acknowledged', (e) => e.mid === mid);
    },
    subscribe: async (topic, qos = 1) => {
      const mid = await send({ do: 'subscribe', topic, qos });
      return (await seen('subscribed', (e) => e.mid === mid)).granted[0] ?? 128;
    },
    next: (fits, withinMs) => waitFor('a message at the Paho device', () => messages.find(fits), withinMs),
    disconnected: async () => (await seen('disconnected', () => true)).code,
    die: async () => {
      program.kill('SIGKILL');
      await program.ended;
    },
    stop: async () => {
      program.endInput();
      const impatience = setTimeout(() => program.kill('SIGKILL'), GOODBYE_WITHIN_MS);
      await program.ended;
      clearTimeout(impatience);
    },
  };
}
