// The composition: the one file that knows all parts. Opens the journal first and the broker last; stops in reverse.
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { pino, type Logger } from 'pino';
import type { Actor } from '../shared/acts.ts';
import { deviceSource } from '../shared/envelope.ts';
import { SERVICE_NAME } from '../shared/recording.ts';
import { rfc3339Of } from '../shared/time.ts';
import { backTopic } from '../shared/topics.ts';
import { openAccess, type AccessStore, type FirstSignIn } from './access/index.ts';
import { startAlerts, type Alerts } from './alerts/index.ts';
import { createGateway, type Gateway } from './gateway/index.ts';
import { openLink, type Link } from './link.ts';
import { clockOf, PlantClient, realPace, type ClockPace, type Told } from './plant/index.ts';
import type { JournalSettings } from './journal/index.ts';
import { plantPort } from './plant-port.ts';
import type { Settings } from './settings.ts';
import { openTrends, type TrendsClient } from './trends/index.ts';

export interface ServiceOptions {
  readonly pace?: ClockPace;
  /** The demonstration's plant: every screen says that it is invented. */
  readonly invented?: boolean;
  readonly logLevel?: string;
  /** After the journal is open and before any device may connect. */
  readonly beforeDevices?: (service: { plant: PlantClient; access: AccessStore; empty: boolean }) => Promise<void>;
}

export interface Service {
  readonly url: string;
  readonly mqttPort: number | undefined;
  readonly firstSignIn: FirstSignIn | undefined;
  readonly startedInS: number;
  readonly ended: Promise<number>;
  close(): Promise<void>;
}

export const SERVICE_ACTOR: Actor = { name: SERVICE_NAME, roles: ['service'] };
/** Devices without a clock of their own are told the time this often. */
const TIME_TOLD_MS = 60_000;
const MAINTAIN_MS = 20_000;
/** A second look at what keeps the way out: after this the process ends whatever waits. */
const CLOSE_WITHIN_MS = 20_000;

export async function startService(settings: Settings, options: ServiceOptions = {}): Promise<Service> {
  const begun = performance.now();
  mkdirSync(settings.data, { recursive: true, mode: 0o700 });
  const running = new Running(settings, options);
  try {
    return await running.start(begun);
  } catch (failure) {
    await running.close();
    throw failure;
  }
}

class Running {
  readonly #settings: Settings;
  readonly #options: ServiceOptions;
  readonly #log: Logger;
  readonly #pace: ClockPace;
  readonly #closers: { readonly name: string; readonly close: () => Promise<void> }[] = [];
  readonly #timers: NodeJS.Timeout[] = [];
  #end: (code: number) => void = () => undefined;
  #closing: Promise<void> | undefined;
  #link: Link | undefined;
  #alerts: Alerts | undefined;
  #plant: PlantClient | undefined;
  readonly #ended: Promise<number>;

  constructor(settings: Settings, options: ServiceOptions) {
    this.#settings = settings;
    this.#options = options;
    this.#pace = options.pace ?? realPace();
    this.#log = pino(
      { level: options.logLevel ?? 'info', base: null, timestamp: pino.stdTimeFunctions.isoTime },
      pino.destination(2),
    );
    this.#ended = new Promise((resolve) => {
      this.#end = resolve;
    });
  }

  async start(begun: number): Promise<Service> {
    const settings = this.#settings;
    const clock = clockOf(this.#pace);
    const journal = journalSettings(settings);
    const access = await this.#opened(
      'access',
      openAccess({ dataDir: settings.data, clock: { now: Date.now }, ...accessPostgres(settings) }),
    );
    const plant = await this.#openPlant(access, journal);
    const { position } = await plant.started;
    await this.#options.beforeDevices?.({ plant, access, empty: position === 0 });
    const trends = await this.#opened('trends', openTrends({ journal, file: join(settings.data, 'trends.sqlite') }));
    this.#startAlerts(plant);
    const gateway = await this.#openGateway(plant, trends, access);
    this.#link = await openLink({ settings, access, plant, clock, log: this.#log });
    this.#closers.push({ name: 'devices', close: () => this.#link?.close() ?? Promise.resolve() });
    for (const publication of await plant.call('allPublications')) this.#link.publish(publication);
    this.#startTimers(plant);
    return {
      url: gateway.url,
      mqttPort: this.#link.port,
      firstSignIn: await access.offerFirstSignIn(),
      startedInS: (performance.now() - begun) / 1000,
      ended: this.#ended,
      close: () => this.close(),
    };
  }

  /** In reverse: no device is read any more, then what was read is stored, then the journal is closed. */
  close(): Promise<void> {
    this.#closing ??= this.#closeAll();
    return this.#closing;
  }

  async #closeAll(): Promise<void> {
    for (const timer of this.#timers) clearInterval(timer);
    const late = setTimeout(() => {
      this.#log.error('closing took too long; ending now. What was acknowledged is stored.');
      this.#end(1);
    }, CLOSE_WITHIN_MS);
    for (const { name, close } of this.#closers.toReversed()) {
      await close().catch((failure: unknown) =>
        this.#log.error({ failure: wordsOf(failure) }, `${name} did not close well`),
      );
    }
    clearTimeout(late);
    this.#end(0);
  }

  async #openPlant(access: AccessStore, journal: JournalSettings): Promise<PlantClient> {
    const { plant: id, zone } = this.#settings;
    const bindings = (await access.devices())
      .filter((device) => device.revokedAt === undefined)
      .map(({ device, kind, serves }) => [device, { kind, serves }] as const);
    const invented = this.#options.invented ?? false;
    const plant = new PlantClient(
      { plant: id, zone, invented, journal, pace: this.#pace, bindings },
      { told: (told) => this.#tell(told), broken: (message) => this.#break(message) },
    );
    this.#plant = plant;
    this.#closers.push({ name: 'plant', close: () => plant.close() });
    access.listen((change) => {
      if (change.kind === 'device-enrolled') {
        const { device, kind, serves } = change.credential;
        void plant.call('enrol', device, { kind, serves }).catch(() => undefined);
      } else if (change.kind === 'device-revoked') this.#link?.disconnect(change.device);
    });
    await plant.started;
    return plant;
  }

  #startAlerts(plant: PlantClient): void {
    const { webhookUrl, webhookKeyFile, publicUrl, data, plant: id } = this.#settings;
    const keyFile = webhookKeyFile ?? join(data, 'webhook-key');
    const webhooks = webhookUrl === undefined ? [] : [{ channel: 'webhook', url: webhookUrl, keyFile }];
    const alerts = startAlerts(
      { plant: id, webhooks, ...(publicUrl === undefined ? {} : { dashboard: publicUrl }) },
      {
        // Receivers compare the time of a signature with their own clock.
        clock: { now: Date.now },
        record: async (tried) => {
          const done = await plant.call('act', SERVICE_ACTOR, 'notice-try', tried);
          if (done.kind !== 'invalid') this.#tell(done.told);
        },
        holds: () => plant.call('holds', { state: 'all', limit: 5000 }),
        log: this.#log,
      },
    );
    this.#alerts = alerts;
    this.#closers.push({ name: 'alerts', close: () => alerts.close() });
  }

  async #openGateway(plant: PlantClient, trends: TrendsClient, access: AccessStore): Promise<{ url: string }> {
    const { httpHost, httpPort } = this.#settings;
    const gateway: Gateway = await createGateway({
      plant: plantPort(plant, (told) => this.#tell(told)),
      series: trends,
      access,
      clock: clockOf(this.#pace),
      settings: { publicUrl: this.#settings.publicUrl, notices: { test: (channel) => this.#alerts?.test(channel) } },
      dashboardDir: fileURLToPath(new URL('../dashboard', import.meta.url)),
      log: this.#log,
    });
    this.#closers.push({ name: 'gateway', close: () => gateway.close() });
    const url = await gateway.listen({ host: httpHost, port: httpPort });
    return { url };
  }

  #tell(told: Told): void {
    for (const publication of told.publications) this.#link?.publish(publication);
    for (const holdId of told.holdIds) void this.#tellHold(holdId);
  }

  async #tellHold(holdId: string): Promise<void> {
    const hold = await this.#plant?.call('hold', holdId).catch(() => undefined);
    if (hold !== undefined) this.#alerts?.holdChanged(hold);
  }

  #break(message: string): void {
    // Before it ever ran there is nothing to recover: whoever starts it is told.
    if (this.#link === undefined) return;
    this.#log.fatal(
      { message },
      'the journal cannot be written: nothing more is acknowledged; ending so that a restart recovers from what is stored',
    );
    void this.close().finally(() => this.#end(1));
    this.#end(1);
  }

  #startTimers(plant: PlantClient): void {
    const every = (ms: number, work: () => Promise<void>): void => {
      const run = (): void =>
        void work().catch((failure: unknown) => this.#log.warn({ failure: wordsOf(failure) }, 'a regular task failed'));
      this.#timers.push(setInterval(run, ms));
    };
    every(this.#settings.tickS * 1000, async () => this.#tell(await plant.call('tick')));
    every(MAINTAIN_MS, () => plant.call('maintain'));
    every(TIME_TOLD_MS, async () => this.#tellTime());
  }

  #tellTime(): void {
    const { plant } = this.#settings;
    const time = rfc3339Of(clockOf(this.#pace).now());
    for (const device of this.#link?.devices() ?? []) {
      const envelope = {
        specversion: '1.0',
        id: `time-${time}`,
        source: `/plant/${plant}/service`,
        type: 'counterpoise.time.v1',
        subject: deviceSource(plant, device),
        time,
        data: { time },
      };
      this.#link?.publish({
        topic: backTopic(plant, device, 'time'),
        payload: JSON.stringify(envelope),
        retain: false,
      });
    }
  }

  async #opened<T extends { close(): Promise<void> }>(name: string, opening: Promise<T>): Promise<T> {
    const part = await opening;
    this.#closers.push({ name, close: () => part.close() });
    return part;
  }
}

export function journalSettings(settings: Settings): JournalSettings {
  if (settings.journal !== undefined) return { store: 'postgres', url: settings.journal };
  return { store: 'sqlite', file: join(settings.data, 'journal.sqlite') };
}

function accessPostgres(settings: Settings): { postgres?: { url: string } } {
  return settings.journal === undefined ? {} : { postgres: { url: settings.journal } };
}

function wordsOf(failure: unknown): string {
  return failure instanceof Error ? failure.message : String(failure);
}
