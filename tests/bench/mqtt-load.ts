// Load at QoS 1 from many raw sockets: as fast as acknowledgements come, or at a given rate; for benches and fault trials.
//
//   const load = await openLoad({ port, clients, window: 20, payload: (client) => '{"n":"~~~~~~~~~~"}' });
//   load.go();  …  load.reset();  …  const { perSecond, latencyMs } = load.report();  load.close();
//
// `mqtt-load-process.ts` runs the same in a process of its own.
import { setTimeout as pause } from 'node:timers/promises';
import { LatencyHistogram, type LatencySummary } from './latency-histogram.ts';
import { LoadClient, type LoadIdentity, type LoadPayload } from './load-client.ts';

export { TIME_MARK } from './load-client.ts';
export type { LoadIdentity, LoadPayload, MakePayload } from './load-client.ts';

export interface LoadSettings {
  readonly host?: string;
  readonly port: number;
  readonly clients: readonly LoadIdentity[];
  /** Messages in flight per client. */
  readonly window: number;
  /** What client number c (from 0) sends. */
  readonly payload: (client: number) => LoadPayload;
  /** Messages per client; without it, no end. */
  readonly messagesPerClient?: number;
  /** All clients together; without it, as fast as acknowledgements come. Latency counts from when a message was due. */
  readonly ratePerSecond?: number;
  /** Try again for ever when a connection is lost or refused, and send again what was not acknowledged. */
  readonly reconnect?: boolean;
  readonly onAcknowledged?: (client: number, n: number) => void;
}

export interface LoadReport {
  readonly seconds: number;
  readonly sent: number;
  readonly acknowledged: number;
  readonly perSecond: number;
  readonly latencyMs: LatencySummary;
  /** Since the opening: acknowledgements that were not the next one due. */
  readonly outOfOrder: number;
  /** Since the opening: connections lost, and tries that failed. */
  readonly lost: number;
  /** Of this process. */
  readonly cpuSeconds: number;
}

const PACE_MS = 1;
const RECONNECT_MS = 20;
/** Connections opened at the same time. */
const OPENING = 50;

export class Load {
  readonly #settings: LoadSettings;
  readonly #clients: readonly LoadClient[];
  readonly #histogram = new LatencyHistogram();
  #isGoing = false;
  #isClosed = false;
  #pacer: NodeJS.Timeout | undefined;
  #sinceMs = 0;
  #sentBefore = 0;
  #acknowledgedBefore = 0;
  #cpuBefore = process.cpuUsage();
  #goneAtMs = 0;
  #offered = 0;
  #turn = 0;
  #lost = 0;
  /** Per client at a given rate: when messages were due that the window had no room for. */
  readonly #overdue: number[][];

  constructor(settings: LoadSettings) {
    this.#settings = settings;
    this.#overdue = settings.clients.map(() => []);
    this.#clients = settings.clients.map((identity, number) => {
      const client = new LoadClient(identity, settings.window, settings.payload(number), {
        acknowledged: (latencyMs) => {
          this.#histogram.add(latencyMs);
          settings.onAcknowledged?.(number, client.acknowledged - 1);
        },
        room: () => this.#refill(client, number),
        lost: () => this.#onLost(client, number),
      });
      client.limit = settings.messagesPerClient ?? Infinity;
      return client;
    });
  }

  async open(): Promise<void> {
    const { host = '127.0.0.1', port } = this.#settings;
    for (let from = 0; from < this.#clients.length; from += OPENING) {
      await Promise.all(this.#clients.slice(from, from + OPENING).map((client) => client.connect(host, port)));
    }
  }

  go(): void {
    this.#isGoing = true;
    this.reset();
    this.#goneAtMs = this.#sinceMs;
    this.#offered = 0;
    if (this.#settings.ratePerSecond !== undefined) this.#pacer = setInterval(() => this.#pace(), PACE_MS);
    else for (const [number, client] of this.#clients.entries()) this.#refill(client, number);
  }

  /** Begins a new stretch of measurement, as after warming up. */
  reset(): void {
    this.#histogram.reset();
    this.#sinceMs = performance.now();
    this.#sentBefore = this.#total((client) => client.sent);
    this.#acknowledgedBefore = this.#total((client) => client.acknowledged);
    this.#cpuBefore = process.cpuUsage();
  }

  report(): LoadReport {
    const seconds = (performance.now() - this.#sinceMs) / 1000;
    const acknowledged = this.#total((client) => client.acknowledged) - this.#acknowledgedBefore;
    const { user, system } = process.cpuUsage(this.#cpuBefore);
    return {
      seconds,
      sent: this.#total((client) => client.sent) - this.#sentBefore,
      acknowledged,
      perSecond: acknowledged / seconds,
      latencyMs: this.#histogram.summary(),
      outOfOrder: this.#total((client) => client.outOfOrder),
      lost: this.#lost,
      cpuSeconds: (user + system) / 1e6,
    };
  }

  /** Per client: every n below it has been acknowledged. */
  acknowledged(): readonly number[] {
    return this.#clients.map((client) => client.acknowledged);
  }

  /** Sends nothing new. */
  stop(): void {
    this.#isGoing = false;
    clearInterval(this.#pacer);
  }

  /** Resolves when everything sent (and, with `messagesPerClient`, everything there is) has been acknowledged. */
  async drained(withinMs: number): Promise<boolean> {
    const end = performance.now() + withinMs;
    const wanted = (client: LoadClient): number => (this.#isGoing ? client.limit : client.sent);
    while (this.#clients.some((client) => client.acknowledged < wanted(client))) {
      if (performance.now() > end) return false;
      await pause(5);
    }
    return true;
  }

  close(): void {
    this.stop();
    this.#isClosed = true;
    for (const client of this.#clients) client.close();
  }

  #refill(client: LoadClient, number: number): void {
    if (!this.#isGoing) return;
    if (this.#settings.ratePerSecond === undefined) {
      client.send(this.#settings.window, performance.now());
      return;
    }
    const overdue = this.#overdue[number] ?? [];
    while (overdue.length > 0 && client.room > 0) client.send(1, overdue.shift() ?? 0);
  }

  /** Gives out what has become due since the last time, one message to each client in turn. */
  #pace(): void {
    const perMs = (this.#settings.ratePerSecond ?? 0) / 1000;
    const due = Math.floor((performance.now() - this.#goneAtMs) * perMs);
    for (; this.#offered < due; this.#offered++) {
      // When it should have been sent, not when this timer came round: the service answers for both.
      const dueAtMs = this.#goneAtMs + (this.#offered + 1) / perMs;
      const number = this.#turn++ % this.#clients.length;
      if (this.#clients[number]?.send(1, dueAtMs) !== 1) this.#overdue[number]?.push(dueAtMs);
    }
  }

  #onLost(client: LoadClient, number: number): void {
    this.#lost += 1;
    if (this.#settings.reconnect !== true || this.#isClosed) return;
    const { host = '127.0.0.1', port } = this.#settings;
    setTimeout(() => {
      if (this.#isClosed) return;
      client.connect(host, port).then(
        () => this.#refill(client, number),
        // Told to `lost` already, which brings us here again.
        () => undefined,
      );
    }, RECONNECT_MS);
  }

  #total(of: (client: LoadClient) => number): number {
    return this.#clients.reduce((sum, client) => sum + of(client), 0);
  }
}

/** Connects all clients; rejects when one of them is refused. */
export async function openLoad(settings: LoadSettings): Promise<Load> {
  const load = new Load(settings);
  try {
    await load.open();
  } catch (error) {
    load.close();
    throw error;
  }
  return load;
}
