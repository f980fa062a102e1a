// The built service as a process of its own, on an invented plant in a folder of its own, with credentials and a person.
import { createWriteStream, mkdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { pipeline } from 'node:stream/promises';
import { fileURLToPath } from 'node:url';
import { openReader } from '../../../services/journal/index.ts';
import { openAccess } from '../../../services/access/index.ts';
import { makeFolder, type Folder } from '../../environment/folder.ts';
import { runProgram, startProgram, untilPrinted, type Program } from '../../environment/program.ts';
import type { LoadIdentity } from '../mqtt-load.ts';
import { inTopic } from '../../../shared/topics.ts';
import { BENCH_PLANT, benchDevices, benchRecording, sensorOf } from './bench-plant.ts';

const BUILD = fileURLToPath(new URL('../../../', import.meta.url));
const COMMAND = join(BUILD, 'services/commands/counterpoise.js');
const PERSON = { name: 'bench-person', password: 'a password for the bench only' };

export interface BenchService {
  readonly pid: number;
  /** Of its broker. */
  readonly port: number;
  readonly url: string;
  readonly data: string;
  readonly secrets: Readonly<Record<string, string>>;
  readonly startedInS: number;
  sensors(count: number): readonly LoadIdentity[];
  /** Signs in as the first person; gives the cookie of the session. */
  signIn(): Promise<string>;
  stop(): Promise<void>;
  /** At once, as a power failure of the process. */
  kill(): Promise<void>;
}

export interface PreparedData {
  readonly data: string;
  readonly secrets: Readonly<Record<string, string>>;
  remove(): void;
}

/** A data directory with the plant's past in its journal and a credential for every device. */
export async function prepareData(spindles: number): Promise<PreparedData> {
  const folder: Folder = makeFolder('bench');
  const data = join(folder.path, 'data');
  mkdirSync(data, { mode: 0o700 });
  const recording = join(folder.path, 'past.jsonl');
  await pipeline(linesOf(spindles), createWriteStream(recording));
  await runProgram(process.execPath, {
    args: [COMMAND, 'import', '--plant', BENCH_PLANT, '--data', data, recording],
  });
  return { data, secrets: await enrolAll(data, spindles), remove: () => folder.remove() };
}

function* linesOf(spindles: number): Iterable<string> {
  for (const line of benchRecording(spindles, Date.now())) yield `${line}\n`;
}

async function enrolAll(data: string, spindles: number): Promise<Readonly<Record<string, string>>> {
  const access = await openAccess({ dataDir: data, clock: { now: Date.now } });
  const secrets: Record<string, string> = {};
  for (const { device, kind, serves } of benchDevices(spindles)) {
    const enrolled = await access.enrol('bench', { device, kind, serves: [...serves] });
    if (enrolled.kind === 'refused') throw new Error(`${device}: ${enrolled.why}`);
    secrets[device] = enrolled.secret;
  }
  await access.close();
  return secrets;
}

/** As `npm run counterpoise` and the program's own first line start it. */
const AS_STARTED = ['--max-semi-space-size=4'];
/** Threads share two heaps of the C library instead of having eight a core: what one frees another can use. */
const ENVIRONMENT_AS_STARTED = { MALLOC_ARENA_MAX: '2' };

/** `nodeOptions` are for looking into it, such as --cpu-prof. */
export async function startService(
  { data, secrets }: PreparedData,
  nodeOptions: readonly string[] = AS_STARTED,
): Promise<BenchService> {
  const limits = ['--packets-per-second-per-device', '1000000', '--packets-burst-per-device', '1000000'];
  const place = ['--plant', BENCH_PLANT, '--data', data, '--mqtt-port', '0', '--http-port', '0'];
  const begun = performance.now();
  const program: Program = startProgram(process.execPath, {
    args: [...nodeOptions, COMMAND, 'serve', ...place, ...limits],
    env: ENVIRONMENT_AS_STARTED,
  });
  await untilPrinted(program, 'Ctrl-C stops it');
  const startedInS = (performance.now() - begun) / 1000;
  const printed = program.output();
  const port = Number(/mqtt:\/\/127\.0\.0\.1:(\d+)/.exec(printed)?.[1]);
  const url = /http:\/\/127\.0\.0\.1:\d+/.exec(printed)?.[0] ?? '';
  return {
    pid: program.pid,
    port,
    url,
    data,
    secrets,
    startedInS,
    sensors: (count) =>
      Array.from({ length: count }, (_, index) => {
        const device = sensorOf(index + 1);
        const password = secrets[device] ?? '';
        return { clientId: device, username: device, password, topic: inTopic(BENCH_PLANT, device, 'summary') };
      }),
    signIn: () => signIn(url, data),
    stop: () => program.stop(),
    kill: async () => {
      program.kill('SIGKILL');
      await program.ended;
    },
  };
}

export interface Kept {
  readonly inputs: number;
  readonly rejected: number;
}

/** What the journal of a service that has ended holds. */
export async function keptIn({ data }: PreparedData): Promise<Kept> {
  const journal = await openReader({ store: 'sqlite', file: join(data, 'journal.sqlite') });
  const kept = { inputs: (await journal.head()).position, rejected: await journal.countRejected('open') };
  await journal.close();
  return kept;
}

async function signIn(url: string, data: string): Promise<string> {
  const token = readFileSync(join(data, 'first-sign-in'), 'utf8').trim();
  const answer = await fetch(`${url}/api/first-user`, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify({ token, ...PERSON }),
  });
  const cookie = answer.headers.get('set-cookie')?.split(';')[0];
  if (!answer.ok || cookie === undefined) throw new Error(`signing in: ${answer.status} ${await answer.text()}`);
  return cookie;
}
