// The composition: the one file that knows all parts. Opens the journal first and the broker last; stops in reverse.
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { pino, type Logger } from 'pino';
import { MILLISECONDS_A_MINUTE, MILLISECONDS_A_SECOND, type Clock } from '../shared/time.ts';
import { openAccess, type AccessStore } from './access/index.ts';
import { openAdvising, type Advising } from './advising/index.ts';
import { answerBench } from './answering.ts';
import { alertsOf } from './alerting.ts';
import { Analysing } from './analysing.ts';
import type { Alerts } from './alerts/index.ts';
import { timeFor } from './announcements.ts';
import { takeDataDir } from './data-dir.ts';
import { createGateway, type PartReady } from './gateway/index.ts';
import type { JournalSettings } from './journal/index.ts';
import { gatewaySettings, openGroup } from './gateway-settings.ts';
import { historyThreads } from './history-threads.ts';
import { secure, type Secured } from './https.ts';
import { openLink, type Link } from './link.ts';
import { serviceMetrics } from './metrics.ts';
import { clockOf, PlantClient, realPace, type ClockPace, type Told } from './plant/index.ts';
import { plantPort } from './plant-port.ts';
import { readyParts } from './readiness.ts';
import { isInTheClear, type Settings } from './settings.ts';
import { accessSettings, journalSettings } from './stores.ts';
import { openTrends, type TrendsClient } from './trends/index.ts';
import { wordsOf, type Service, type ServiceOptions } from './service.ts';

export type { BeforeDevices, Service, ServiceOptions } from './service.ts';

/** Devices without a clock of their own are told the time this often. */
const TIME_TOLD_MS = MILLISECONDS_A_MINUTE;
const MAINTAIN_MS = 20_000;
const BYTES_A_MEGABYTE = 1_000_000;
/** While nobody can sign in, the one-time token is made anew before it is over. */
const FIRST_SIGN_IN_RENEWED_MS = 25 * MILLISECONDS_A_MINUTE;
/** After this the process ends, whatever keeps it. */
const CLOSE_WITHIN_MS = 20_000;

/** Rejects when it cannot start or was stopped meanwhile; whatever was opened by then is closed again. */
export async function startService(settings: Settings, options: ServiceOptions = {}): Promise<Service> {
  const begun = performance.now();
  const { isNew } = takeDataDir(settings);
  const running = new Running(settings, options);
  try {
    return { ...(await running.start(begun)), isNewData: isNew };
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
  readonly #clock: Clock;
  readonly #closers: { readonly name: string; readonly close: () => Promise<void> }[] = [];
  readonly #timers: NodeJS.Timeout[] = [];
  #end: (code: number) => void = () => undefined;
  #closing: Promise<void> | undefined;
  #isServing = false;
  #hasFailed = false;
  #isFull = false;
  #link: Link | undefined;
  #secured: Secured = { http: undefined, mqtt: undefined, own: undefined };
  #alerts: Alerts | undefined;
  #plant: PlantClient | undefined;
  #analysing: Analysing | undefined;
  readonly #advising: Advising = openAdvising();
  readonly #ended: Promise<number>;

  constructor(settings: Settings, options: ServiceOptions) {
    this.#settings = settings;
    this.#options = options;
    this.#pace = options.pace ?? realPace();
    this.#clock = clockOf(this.#pace);
    this.#log = pino(
      { level: options.logLevel ?? 'info', base: null, timestamp: pino.stdTimeFunctions.isoTime },
      pino.destination(2),
    );
    this.#ended = new Promise((resolve) => {
      this.#end = resolve;
    });
  }

  async start(begun: number): Promise<Omit<Service, 'isNewData'>> {
    const settings = this.#settings;
    const journal = journalSettings(settings);
    const access = await this.#opened('access', openAccess(accessSettings(settings)));
    const plant = await this.#openPlant(access, journal);
    const { position } = await plant.started;
    await this.#options.beforeDevices?.({ plant, access, position });
    const trends = await this.#opened('trends', this.#openTrends(journal));
    this.#startAlerts(plant);
    this.#closers.push({ name: 'advising', close: () => this.#advising.close() });
    await this.#startAnalysing(plant);
    this.#secured = await secure(settings, clockOf(realPace()));
    const url = await this.#openGateway(plant, trends, access);
    const link = await this.#opened('devices', this.#openLink(plant, access));
    for (const publication of await plant.call('allPublications')) link.publish(publication);
    const firstSignIn = await access.offerFirstSignIn();
    this.#startTimers(plant, access);
    this.#isServing = true;
    const startedInS = (performance.now() - begun) / MILLISECONDS_A_SECOND;
    return {
      url,
      devicesUrl: link.url,
      ownCertificate: this.#secured.own,
      firstSignIn,
      startedInS,
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
    // A balancer asks now and then: until it has heard that this one stops, it is still served.
    if (this.#isServing && !this.#hasFailed) await pause(this.#settings.drainS * MILLISECONDS_A_SECOND);
    const tooLate = new AbortController();
    const closed = this.#closeParts().finally(() => tooLate.abort());
    const late = pause(CLOSE_WITHIN_MS, undefined, { signal: tooLate.signal }).then(() => {
      this.#log.error('closing took too long; ending now. What was acknowledged is stored.');
      this.#hasFailed = true;
    });
    await Promise.race([closed, late.catch(() => closed)]);
    this.#end(this.#hasFailed ? 1 : 0);
  }

  async #closeParts(): Promise<void> {
    for (const timer of this.#timers) clearInterval(timer);
    for (const { name, close } of this.#closers.toReversed()) {
      await close().catch((failure: unknown) =>
        this.#log.error({ failure: wordsOf(failure) }, `${name} did not close well`),
      );
    }
  }

  async #openPlant(access: AccessStore, journal: JournalSettings): Promise<PlantClient> {
    const { plant: id, zone, rawWindowsMb } = this.#settings;
    const bindings = (await access.devices())
      .filter((device) => device.revokedAt === undefined)
      .map(({ device, kind, serves }) => [device, { kind, serves }] as const);
    const invented = this.#options.invented ?? false;
    const inTheClear = isInTheClear(this.#settings);
    const plant = new PlantClient(
      {
        plant: id,
        zone,
        invented,
        inTheClear,
        journal,
        waveBytesMax: rawWindowsMb * BYTES_A_MEGABYTE,
        pace: this.#pace,
        bindings,
      },
      {
        told: (told) => this.#tell(told),
        full: (waiting) => {
          this.#isFull = waiting !== undefined;
          if (waiting === undefined) this.#log.warn('there is room on the disk again: going on');
          else this.#log.error(waiting, 'the disk is full: nothing is acknowledged until there is room; trying again');
        },
        broken: (message) => this.#break(message),
      },
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

  #openTrends(journal: JournalSettings): Promise<TrendsClient> {
    const file = join(this.#settings.data, 'trends.sqlite');
    return openTrends({ journal, file }, { trouble: (message) => this.#log.warn({ message }, 'trends') });
  }

  async #openLink(plant: PlantClient, access: AccessStore): Promise<Link> {
    const benchCame = (): void => this.#advising.wake();
    return (this.#link = await openLink({ ...this.#common, tls: this.#secured.mqtt, access, plant, benchCame }));
  }

  get #common() {
    return { settings: this.#settings, clock: this.#clock, log: this.#log };
  }

  #startAlerts(plant: PlantClient): void {
    const alerts = alertsOf({ ...this.#common, plant, tell: (told) => this.#tell(told) });
    this.#alerts = alerts;
    this.#closers.push({ name: 'alerts', close: () => alerts.close() });
  }

  /** Before any device may connect: what comes then is not in the backlog. */
  async #startAnalysing(plant: PlantClient): Promise<void> {
    const analysing = new Analysing({ plant, log: this.#log, tell: (told) => this.#tell(told) });
    this.#analysing = analysing;
    this.#closers.push({ name: 'analysis', close: () => analysing.close() });
    await analysing.takeBacklog();
  }

  /** Gives back where it listens. */
  async #openGateway(plant: PlantClient, trends: TrendsClient, access: AccessStore): Promise<string> {
    const { httpHost, httpPort } = this.#settings;
    const group = openGroup(this.#settings, clockOf(realPace()));
    this.#closers.push({ name: 'group', close: () => group.close() });
    const { tryOuts, verifying, ...history } = historyThreads(this.#settings, plant, this.#clock);
    this.#closers.push({ name: 'history', close: () => history.close() });
    const gateway = await createGateway({
      plant: plantPort(plant, this.#advising, (told) => this.#tell(told)),
      series: trends,
      tryOuts,
      verifying,
      access,
      tls: this.#secured.http,
      others: () => group.views(),
      settings: {
        ...gatewaySettings(this.#settings),
        authority: this.#secured.own?.authority,
        devicesUrl: () => this.#link?.url,
        notices: { test: (channel) => this.#alerts?.test(channel) },
        ready: () => this.#readyParts(plant),
        moreMetrics: () => serviceMetrics(plant, this.#link, this.#alerts, this.#isFull, this.#analysing?.counts),
      },
      dashboardDir: fileURLToPath(new URL('../dashboard', import.meta.url)),
      log: this.#log,
    });
    this.#closers.push({ name: 'gateway', close: () => gateway.close() });
    return gateway.listen({ host: httpHost, port: httpPort });
  }

  async #readyParts(plant: PlantClient): Promise<readonly PartReady[]> {
    const isStaying = this.#isServing && this.#closing === undefined;
    if (isStaying && !this.#isFull) await plant.call('intake');
    return readyParts({ isStaying, isFull: this.#isFull, brokerConnected: this.#link?.brokerConnected });
  }

  #tell(told: Told): void {
    this.#analysing?.take(told.waves);
    for (const publication of told.publications) this.#link?.publish(publication);
    for (const holdId of told.holdIds) void this.#tellHold(holdId);
    for (const asked of told.benchAnswers)
      void answerBench(this.#advising, (publication) => this.#link?.publish(publication), asked);
  }

  async #tellHold(holdId: string): Promise<void> {
    const hold = await this.#plant?.call('hold', holdId).catch(() => undefined);
    if (hold !== undefined) this.#alerts?.holdChanged(hold);
  }

  #break(message: string): void {
    // Before it ever served there is nothing to recover: whoever starts it is told.
    if (!this.#isServing) return;
    this.#hasFailed = true;
    this.#log.fatal(
      { message },
      'the journal cannot be written: nothing more is acknowledged; ending so that a restart recovers from what is stored',
    );
    void this.close();
  }

  #startTimers(plant: PlantClient, access: AccessStore): void {
    const every = (ms: number, work: () => Promise<unknown>): void => {
      const run = (): void =>
        void work().catch((failure: unknown) => this.#log.warn({ failure: wordsOf(failure) }, 'a regular task failed'));
      this.#timers.push(setInterval(run, ms));
    };
    every(this.#settings.tickS * MILLISECONDS_A_SECOND, async () => this.#tell(await plant.call('tick')));
    every(MAINTAIN_MS, () => plant.call('maintain'));
    every(TIME_TOLD_MS, async () => this.#tellTime());
    every(FIRST_SIGN_IN_RENEWED_MS, () => access.offerFirstSignIn());
  }

  #tellTime(): void {
    for (const device of this.#link?.devices() ?? [])
      this.#link?.publish(timeFor(this.#settings.plant, this.#clock.now(), device));
  }

  async #opened<T extends { close(): Promise<void> }>(name: string, opening: Promise<T>): Promise<T> {
    const part = await opening;
    this.#closers.push({ name, close: () => part.close() });
    this.#options.stop?.throwIfAborted();
    return part;
  }
}
