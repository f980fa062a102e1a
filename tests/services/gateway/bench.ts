// A gateway over a plant of the test's own making at the port, with real access, real HTTP and real sockets.
import { pino } from 'pino';
import { createAccess, sqliteTables, type AccessLimits, type AccessStore } from '../../../services/access/index.ts';
import {
  createGateway,
  type ActDone,
  type Gateway,
  type GatewaySettings,
  type PlantPort,
  type RetryDone,
  type SeriesPort,
  type TryOutPort,
  type VerifyPort,
} from '../../../services/gateway/index.ts';
import { DEFAULT_ANSWERING } from '../../../shared/answering.ts';
import { SETTING_DEFAULTS } from '../../../services/rules/index.ts';
import type { RulesView } from '../../../shared/try-out.ts';
import type { Receipt } from '../../../shared/receipts.ts';
import type { Role } from '../../../shared/rights.ts';
import type { FloorView, HoldView, SpindleView } from '../../../shared/views.ts';
import { makeFolder } from '../../environment/folder.ts';
import { hoursOf, nothingHappened } from './month-double.ts';

export const PASSWORD = 'tall grey herons';
export const START = Date.UTC(2026, 3, 1, 6);

export const HOLD: HoldView = {
  holdId: 'H-7-0',
  subject: { kind: 'spindle', id: 'S-3' },
  reason: 'overall-over-limit',
  sentence: 'S-3 is on hold: its vibration is over the limit.',
  state: 'raised',
  open: true,
  raisedAt: START,
  changedAt: START,
  evidence: { positions: [5, 6, 7], clauses: [] },
  conditions: [{ kind: 'maintenance-release', words: 'released by maintenance', met: false, byHand: true }],
  steps: [{ state: 'raised', at: START, by: 'sensor-3', cause: 7 }],
  dependents: [],
  checkFirst: [],
  cautions: [],
  notices: [],
};

export const FLOOR: FloorView = {
  plant: 'trial',
  zone: 'Etc/UTC',
  now: START,
  invented: true,
  spindles: ['S-3', 'S-4'].map((spindleId, index) => ({
    spindleId,
    machine: `Mill ${index + 1}`,
    cell: index === 0 ? 'North' : 'South',
    standing: 'in-family' as const,
    state: 'reporting' as const,
    openHoldIds: [],
  })),
  holds: [HOLD],
  intake: { devices: [], rejectsOpen: 1, journal: { position: 7, at: START } },
};

const HEARD = { waveId: 5, at: START, device: 'sensor-3', channel: 'radial-x' };
const WINDOWS = { ...HEARD, health: [], speaking: [] };

const WINDOW = {
  ...HEARD,
  sampleRateHz: 12_800,
  samples: 3,
  state: 'analysed',
  kept: true,
} as const;

/** A plant that remembers what it was asked and says what it was told to say. */
export class PlantDouble implements PlantPort {
  readonly acts: { actor: unknown; kind: string; data: unknown; id?: string }[] = [];
  actDone: ActDone = { kind: 'done', position: 8 };
  retryDone: RetryDone = { kind: 'kept', position: 9 };
  broken = false;
  number = 0;
  /** Waits before a snapshot is given; the number is the one at the time of giving. */
  beforeSnapshot: () => Promise<void> = () => Promise.resolve();
  readonly watchers = new Set<(json: string) => void>();
  padding = '';

  #unlessBroken<T>(answer: T): Promise<T> {
    return this.broken ? Promise.reject(new Error('insides that nobody should see')) : Promise.resolve(answer);
  }

  floor = () => this.#unlessBroken(FLOOR);
  spindle = (id: string) => {
    const row = FLOOR.spindles.find((known) => known.spindleId === id);
    const nothing = { limits: [], points: [], lines: [], loads: [], holds: [], severity: { bins: [], history: [] } };
    return this.#unlessBroken(row && { row, ...nothing, ...(id === 'S-3' ? { windows: this.windows } : {}) });
  };
  windows: NonNullable<SpindleView['windows']> = WINDOWS;
  assemblies = () => this.#unlessBroken([]);
  assembly = () => this.#unlessBroken(undefined);
  toolRoom = () => this.#unlessBroken({ now: START, invented: true, results: [], work: [], benches: [], achieved: [] });
  travels = () => this.#unlessBroken(undefined);
  answering = () => this.#unlessBroken(DEFAULT_ANSWERING);
  ruleSets: RulesView['sets'] = [];
  rules = () => this.#unlessBroken({ defaults: { ...SETTING_DEFAULTS }, sets: this.ruleSets });
  tryFacts: PlantPort['tryFacts'] = () => this.#unlessBroken({ now: START, subjects: [], before: [] });
  ahead: PlantPort['ahead'] = (cell) =>
    this.#unlessBroken({
      cells: cell === undefined ? ['North'] : [cell],
      rows: [],
      rowsLeft: 0,
      counts: {
        spindles: 1,
        courses: 0,
        spindlesWithoutDays: 1,
        tooFewDays: 0,
        noLimit: 0,
        noTrend: 0,
        notWithinAYear: 0,
      },
      daysMin: 8,
    });
  headroom: PlantPort['headroom'] = (days) =>
    this.#unlessBroken({ from: START, to: START, days, spindles: [], cutHours: 0, awayHours: 0, cutters: [] });
  month: PlantPort['month'] = (month) => this.#unlessBroken(hoursOf(month, START));
  declaredLimits: PlantPort['declaredLimits'] = () => this.#unlessBroken({ now: START, spindles: [] });
  reference = () => this.#unlessBroken({ interfaces: [], densities: [], grades: [] });
  advice: PlantPort['advice'] = (assemblyId) =>
    this.#unlessBroken({ kind: 'unknown', detail: `No assembly ${assemblyId} is known.` });
  holds = () => this.#unlessBroken([HOLD]);
  hold = (id: string) => this.#unlessBroken(id === HOLD.holdId ? HOLD : undefined);
  gate: PlantPort['gate'] = (question) =>
    this.#unlessBroken({
      word: 'MEASURE FIRST' as const,
      reason: 'not-measured-since-build' as const,
      why: 'It was built since it was last measured.',
      next: 'Measure it.',
      caution: 'Limits govern.',
      spindleId: question.spindleId,
      assemblyId: question.assemblyId,
      ...(question.speedRpm === undefined ? {} : { askedSpeedRpm: question.speedRpm }),
    });
  intake = () => this.#unlessBroken(FLOOR.intake);
  act: PlantPort['act'] = (actor, kind, data, id) => {
    this.acts.push({ actor, kind, data, ...(id === undefined ? {} : { id }) });
    return this.#unlessBroken(this.actDone);
  };
  rejects = () => this.#unlessBroken([]);
  reject = () => this.#unlessBroken(undefined);
  retry = () => this.#unlessBroken(this.retryDone);
  entry = (position: number) => this.#unlessBroken(position === 7 ? { position, kind: 'summary' } : undefined);

  waveSamples: PlantPort['waveSamples'] = (waveId) =>
    this.#unlessBroken(
      waveId === WINDOWS.waveId
        ? { sampleRateHz: 12_800, accelerationMS2: Float32Array.from([0.5, -2, 3.25]) }
        : undefined,
    );
  readonly received: { device: string; payload: Uint8Array }[] = [];
  receipt: Receipt = { channel: 'wave', outcome: 'kept', journal: 8 };
  /** Waits before a device's window is durable. */
  beforeReceipt: () => Promise<void> = () => Promise.resolve();
  receive: PlantPort['receive'] = async (device, _credential, payload) => {
    this.received.push({ device, payload });
    await this.beforeReceipt();
    return this.#unlessBroken(this.receipt);
  };
  wavePins = () => this.#unlessBroken({ [WINDOWS.waveId]: [HOLD.holdId] });

  subscribe = (onFrame: (json: string) => void) => {
    this.watchers.add(onFrame);
    return () => this.watchers.delete(onFrame);
  };
  snapshotFrame = async () => {
    await this.beforeSnapshot();
    return JSON.stringify({ frame: 'snapshot', number: this.number, floor: FLOOR, padding: this.padding });
  };

  /** The next change frame, to everybody who watches. */
  change(): void {
    this.number += 1;
    const frame = { frame: 'change', number: this.number, now: START, spindles: [], holds: [], padding: this.padding };
    const json = JSON.stringify(frame);
    for (const watcher of this.watchers) watcher(json);
  }
}

const NO_SERIES: SeriesPort = {
  month: nothingHappened,
  series: ({ quantity, from, to, points }) =>
    Promise.resolve({
      quantity,
      unit: 'mm/s',
      from,
      to,
      bucketMs: (to - from) / points,
      at: [],
      min: [],
      mean: [],
      max: [],
      count: [],
    }),
  windows: () => Promise.resolve({ waves: [WINDOW], more: false }),
  window: (id) => Promise.resolve(id === WINDOW.waveId ? { ...WINDOW, spindleId: 'S-3' } : undefined),
  spectrogram: ({ from, to }) =>
    Promise.resolve({
      from,
      to,
      lowestHz: 10,
      bandsPerOctave: 3,
      bands: 1,
      columns: [{ waveId: WINDOW.waveId, at: START, velocityMmS: [0.5] }],
    }),
  record: () => Promise.resolve({ lines: [], more: false }),
  ribbons: ({ spindleIds = ['S-3', 'S-4'] }) =>
    Promise.resolve({ spindles: spindleIds.map((spindleId) => ({ spindleId, at: [], min: [], mean: [], max: [] })) }),
};

export interface Bench {
  readonly plant: PlantDouble;
  readonly access: AccessStore;
  readonly gateway: Gateway;
  /** The address once it listens. */
  listen(): Promise<string>;
  /** Cookie header of a user with these roles. */
  session(...roles: Role[]): Promise<string>;
  pass(ms: number): void;
  /** Dashboards on the feed, as the counts say. */
  connections(): Promise<number>;
  close(): Promise<void>;
}

export interface BenchOptions {
  readonly settings?: GatewaySettings;
  readonly accessLimits?: Partial<AccessLimits>;
  readonly dashboardDir?: string;
  readonly tryOuts?: TryOutPort;
  readonly series?: SeriesPort;
  readonly verifying?: VerifyPort;
}

export async function openBench({ settings = {}, accessLimits, ...parts }: BenchOptions = {}): Promise<Bench> {
  const folder = makeFolder('gateway');
  let now = START;
  const access = await createAccess({
    tables: sqliteTables(`${folder.path}/access.sqlite`),
    clock: { now: () => now },
    firstSignInFile: `${folder.path}/first-sign-in`,
    limits: { passwordCost: 2 ** 10, ...accessLimits },
  });
  const plant = new PlantDouble();
  const log = pino({ level: 'silent' });
  const gateway = await createGateway({ plant, series: NO_SERIES, access, log, settings, ...parts });
  let users = 0;
  return {
    plant,
    access,
    gateway,
    listen: () => gateway.listen({ host: '127.0.0.1', port: 0 }),
    pass: (ms) => void (now += ms),
    connections: async () => {
      const { body } = await gateway.inject('/metrics');
      return Number(/^counterpoise_feed_connections (\d+)$/m.exec(body)?.[1]);
    },
    session: async (...roles) => {
      users += 1;
      return `counterpoise=${await newSession(access, `user-${users}`, roles)}`;
    },
    close: async () => {
      await gateway.close();
      await access.close();
      folder.remove();
    },
  };
}

async function newSession(access: AccessStore, name: string, roles: readonly Role[]): Promise<string> {
  if (!(await access.hasUsers())) {
    const offer = await access.offerFirstSignIn();
    await access.join({ token: offer?.token ?? '', name: 'Ada', password: PASSWORD, from: 'bench' });
  }
  const invited = await access.invite('Ada', { name, roles });
  if (invited.kind !== 'invited') throw new Error(invited.code);
  const joined = await access.join({ token: invited.token, name, password: PASSWORD, from: 'bench' });
  if (joined.kind !== 'signed-in') throw new Error(joined.kind);
  return joined.token;
}
