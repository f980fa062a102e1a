// A container engine for testcontainers: Docker where its daemon answers, else Debian's podman, which serves the same
// interface on a socket of this run's own. What podman stores stays in a cache folder, apart from a person's own.
import { mkdirSync, writeFileSync } from 'node:fs';
import { homedir } from 'node:os';
import { join } from 'node:path';
import { makeFolder } from './folder.ts';
import { ensureMosquittoImage } from './mosquitto-image.ts';
import { LOOPBACK } from './loopback.ts';
import { findProgram, runProgram, startProgram } from './program.ts';
import { waitFor } from './wait-for.ts';

const OPEN_FILES_MAX = 20_000;
const PUBLIC_MOSQUITTO_IMAGE = 'eclipse-mosquitto:2';
/** A container carries the process id of the test that started it, so that a later run can remove an orphan. */
export const OWNER_LABEL = 'counterpoise.test-process';

export interface ContainerEngine {
  readonly name: 'docker' | 'podman';
  /** An image that can run `mosquitto -c FILE`. */
  readonly mosquittoImage: string;
  readonly ulimits: Readonly<Record<string, { readonly hard: number; readonly soft: number }>>;
  readonly labels: Readonly<Record<string, string>>;
  stop(): Promise<void>;
}

const SHARED = {
  ulimits: {
    nofile: { hard: OPEN_FILES_MAX, soft: OPEN_FILES_MAX },
    nproc: { hard: OPEN_FILES_MAX, soft: OPEN_FILES_MAX },
  },
  labels: { [OWNER_LABEL]: String(process.pid) },
} as const;

/** Makes an engine ready and points testcontainers at it. The first time, podman's image takes about a minute. */
export async function startContainerEngine(): Promise<ContainerEngine> {
  if (await dockerAnswers()) {
    return { ...SHARED, name: 'docker', mosquittoImage: PUBLIC_MOSQUITTO_IMAGE, stop: () => Promise.resolve() };
  }
  if (process.getuid?.() !== 0) throw new Error('containers need a Docker engine that answers, or podman as root');
  return startPodman();
}

async function dockerAnswers(): Promise<boolean> {
  try {
    await runProgram(findProgram('docker'), { args: ['version', '--format', '{{.Server.Version}}'] });
    return true;
  } catch {
    return false;
  }
}

async function startPodman(): Promise<ContainerEngine> {
  const folder = makeFolder('podman');
  const podman = findProgram('podman');
  const env = configure(folder.path);
  await removeOrphans(podman, env);
  const mosquittoImage = await ensureMosquittoImage(podman, env);
  const socket = `unix://${join(folder.path, 'podman.sock')}`;
  const service = startProgram(podman, { args: ['system', 'service', '--time=0', socket], env });
  await waitFor('podman’s socket', async () => {
    const { code } = await runProgram(podman, {
      args: ['--remote', '--url', socket, 'version'],
      expected: [0, 125],
    });
    return code === 0;
  });
  process.env['DOCKER_HOST'] = socket;
  process.env['TESTCONTAINERS_RYUK_DISABLED'] = 'true';
  process.env['TESTCONTAINERS_HOST_OVERRIDE'] = LOOPBACK;
  return {
    ...SHARED,
    name: 'podman',
    mosquittoImage,
    stop: async () => {
      await service.stop();
      await unmountStore(podman, env);
      folder.remove();
    },
  };
}

/** podman leaves its store mounted on itself, so that the cache could not be removed. Another run may still use it. */
async function unmountStore(podman: string, env: Readonly<Record<string, string>>): Promise<void> {
  const { output } = await runProgram(podman, { args: ['ps', '--quiet'], env });
  if (output === '') await runProgram(findProgram('umount'), { args: [join(stored(), 'overlay')], expected: [0, 32] });
}

function cache(): string {
  return join(process.env['XDG_CACHE_HOME'] ?? join(homedir(), '.cache'), 'counterpoise-tests', 'containers');
}

function stored(): string {
  return join(cache(), 'stored');
}

/** Where podman keeps things and what it may use: its files, and the environment that points at them. */
function configure(folder: string): Readonly<Record<string, string>> {
  mkdirSync(cache(), { recursive: true });
  const engine = join(folder, 'containers.conf');
  const limits = `["nofile=${OPEN_FILES_MAX}:${OPEN_FILES_MAX}","nproc=${OPEN_FILES_MAX}:${OPEN_FILES_MAX}"]`;
  // Without the shorter delay, each command run inside a container leaves a process behind for five minutes.
  writeFileSync(
    engine,
    `[containers]\ndefault_ulimits=${limits}\n[engine]\nruntime="runc"\nexit_command_delay=1\nevents_logger="file"\n`,
  );
  const storage = join(folder, 'storage.conf');
  const running = join(cache(), 'running');
  writeFileSync(storage, `[storage]\ndriver="overlay"\ngraphroot="${stored()}"\nrunroot="${running}"\n`);
  return { CONTAINERS_CONF: engine, CONTAINERS_STORAGE_CONF: storage };
}

/** Removes containers whose test process is gone: it was killed before it could remove them itself. */
async function removeOrphans(podman: string, env: Readonly<Record<string, string>>): Promise<void> {
  const format = `{{.ID}} {{index .Labels "${OWNER_LABEL}"}}`;
  const args = ['ps', '--all', '--filter', `label=${OWNER_LABEL}`, '--format', format];
  const { output } = await runProgram(podman, { args, env });
  for (const line of output.split('\n').filter((text) => text !== '')) {
    const [id = '', owner = ''] = line.split(' ');
    if (!isAlive(Number(owner))) await runProgram(podman, { args: ['rm', '--force', id], env });
  }
}

function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch {
    return false;
  }
}
