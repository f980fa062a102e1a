// The whole service, built, as a process of its own with a declared plant and enrolled devices: for tests from the outside.
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { connectAsync, type MqttClient } from 'mqtt';
import { openAccess } from '../../services/access/index.ts';
import { ACT_TYPES, type SpindleDeclared } from '../../shared/acts.ts';
import { deviceSource, personSource } from '../../shared/envelope.ts';
import type { DeviceKind } from '../../shared/ids.ts';
import { MESSAGE_TYPES } from '../../shared/messages/index.ts';
import type { Receipt } from '../../shared/receipts.ts';
import { rfc3339Of } from '../../shared/time.ts';
import { actTopic, backTopic, inTopic, type InChannel } from '../../shared/topics.ts';
import { makeFolder } from '../environment/folder.ts';
import { LOOPBACK } from '../environment/loopback.ts';
import { startProgram, type Program } from '../environment/program.ts';
import { waitFor } from '../environment/wait-for.ts';

export const PLANT = 'works';
export const CLI = fileURLToPath(new URL('../../build/services/commands/counterpoise.js', import.meta.url));

export interface StandDevice {
  readonly device: string;
  readonly kind: DeviceKind;
  readonly serves?: readonly string[];
}

export interface StandOptions {
  readonly devices: readonly StandDevice[];
  readonly spindles?: readonly SpindleDeclared[];
  readonly args?: readonly string[];
  /** Of PostgreSQL, for journal and people; SQLite in the data directory otherwise. */
  readonly journal?: string;
  /** Without an embedded broker there is no port to wait for. */
  readonly external?: boolean;
}

export interface Stand {
  readonly url: string;
  readonly port: number;
  readonly data: string;
  readonly program: Program;
  secret(device: string): string;
  firstToken(): string;
  /** A device on MQTT.js that has subscribed to its own replies. */
  device(name: string): Promise<StandClient>;
  /** With further flags, which come last and so win. */
  restart(args?: readonly string[]): Promise<void>;
  stop(): Promise<void>;
}

const STARTED_WITHIN_MS = 60_000;

export async function startStand(options: StandOptions): Promise<Stand> {
  const folder = makeFolder('whole');
  const data = join(folder.path, 'data');
  await declare(folder.path, data, options);
  const secrets = await enrol(data, options);
  let running = await start(data, options);
  return {
    get url() {
      return running.url;
    },
    get port() {
      return running.port;
    },
    get program() {
      return running.program;
    },
    data,
    secret: (device) => secrets.get(device) ?? '',
    firstToken: () => readFileSync(join(data, 'first-sign-in'), 'utf8').trim().split('\n').at(-1) ?? '',
    device: (name) => connectDevice(running.port, name, secrets.get(name) ?? ''),
    restart: async (args = []) => {
      await running.program.stop();
      running = await start(data, { ...options, args: [...(options.args ?? []), ...args] });
    },
    stop: async () => {
      await running.program.stop();
      folder.remove();
    },
  };
}

interface Running {
  readonly program: Program;
  readonly url: string;
  readonly port: number;
}

/** Which plant, and where its data are. */
function where(data: string, { journal }: StandOptions): readonly string[] {
  return ['--plant', PLANT, '--data', data, ...(journal === undefined ? [] : ['--journal', journal])];
}

async function start(data: string, options: StandOptions): Promise<Running> {
  const { args = [], external = false } = options;
  const all = [CLI, 'serve', ...where(data, options), '--http-port', '0', '--mqtt-port', '0', ...args];
  const program = startProgram(process.execPath, { args: all });
  let ended: number | string | undefined;
  void program.ended.then((code) => (ended = code));
  return waitFor(
    () => `the service to start; it printed: ${program.output()}`,
    () => {
      if (ended !== undefined) throw new Error(`the service ended with ${ended}: ${program.output()}`);
      const url = /dashboard\s+(http:\S+)/.exec(program.output())?.[1];
      const port = /mqtt:\/\/127\.0\.0\.1:(\d+)/.exec(program.output())?.[1];
      if (url === undefined || (port === undefined && !external)) return undefined;
      return { program, url, port: Number(port ?? 0) };
    },
    STARTED_WITHIN_MS,
  );
}

async function declare(folder: string, data: string, options: StandOptions): Promise<void> {
  const { spindles = [] } = options;
  const person = 'test-engineer';
  const lines = spindles.map((spindle) => {
    const envelope = {
      specversion: '1.0',
      id: `declared-${spindle.spindleId}`,
      source: personSource(PLANT, person),
      type: ACT_TYPES['spindle-declared'],
      roles: 'engineer',
      data: spindle,
    };
    return JSON.stringify({ topic: actTopic(PLANT, person), at: rfc3339Of(Date.now()), envelope });
  });
  const file = join(folder, 'declared.jsonl');
  writeFileSync(file, `${lines.join('\n')}\n`);
  const program = startProgram(process.execPath, { args: [CLI, 'import', file, ...where(data, options)] });
  const code = await program.ended;
  if (code !== 0) throw new Error(`the import ended with ${code}: ${program.output()}`);
}

async function enrol(data: string, { devices, journal }: StandOptions): Promise<ReadonlyMap<string, string>> {
  const postgres = journal === undefined ? {} : { postgres: { url: journal } };
  const access = await openAccess({ dataDir: data, clock: { now: Date.now }, ...postgres });
  const secrets = new Map<string, string>();
  for (const { device, kind, serves = [] } of devices) {
    const enrolled = await access.enrol('test', { device, kind, serves });
    if (enrolled.kind === 'refused') throw new Error(enrolled.why);
    secrets.set(device, enrolled.secret);
  }
  await access.close();
  return secrets;
}

let ids = 0;

/** A message as a device would send it. */
export function sealed(device: string, channel: InChannel, data: unknown, more: Record<string, unknown> = {}): string {
  ids += 1;
  return JSON.stringify({
    specversion: '1.0',
    id: `m-${ids}`,
    source: deviceSource(PLANT, device),
    type: MESSAGE_TYPES[channel],
    time: rfc3339Of(Date.now()),
    data,
    ...more,
  });
}

export class StandClient {
  readonly client: MqttClient;
  readonly device: string;
  readonly messages: { readonly topic: string; readonly payload: string; readonly retain: boolean }[] = [];

  constructor(client: MqttClient, device: string) {
    this.client = client;
    this.device = device;
    client.on('message', (topic, payload, { retain }) => {
      this.messages.push({ topic, payload: payload.toString(), retain });
    });
  }

  /** Resolves with the receipt; raw payloads go out as they are. */
  async send(channel: InChannel, payload: string | Buffer): Promise<Receipt> {
    const before = this.messages.length;
    await this.client.publishAsync(inTopic(PLANT, this.device, channel), payload, { qos: 1 });
    return waitFor(`a receipt for ${channel}`, () => this.#receiptAfter(before));
  }

  async publish(channel: InChannel, payload: string | Buffer): Promise<void> {
    await this.client.publishAsync(inTopic(PLANT, this.device, channel), payload, { qos: 1 });
  }

  next(
    fits: (message: { topic: string; payload: string; retain: boolean }) => boolean,
  ): Promise<{ topic: string; payload: string; retain: boolean }> {
    return waitFor(`a message at ${this.device}`, () => this.messages.find(fits));
  }

  stop(): Promise<void> {
    return this.client.endAsync();
  }

  #receiptAfter(index: number): Receipt | undefined {
    const found = this.messages.slice(index).find(({ topic }) => topic === backTopic(PLANT, this.device, 'receipt'));
    return found === undefined ? undefined : (JSON.parse(found.payload) as { data: Receipt }).data;
  }
}

async function connectDevice(port: number, device: string, secret: string): Promise<StandClient> {
  const client = await connectAsync(`mqtt://${LOOPBACK}:${port}`, {
    clientId: device,
    username: device,
    password: secret,
    reconnectPeriod: 0,
  });
  const stand = new StandClient(client, device);
  await client.subscribeAsync([backTopic(PLANT, device, 'receipt'), backTopic(PLANT, device, 'answer')], { qos: 1 });
  return stand;
}
