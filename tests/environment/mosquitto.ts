// A mosquitto broker of a test's own, as the foreign broker that a plant may already have.
import { writeFileSync } from 'node:fs';
import { userInfo } from 'node:os';
import { join } from 'node:path';
import { makeFolder } from './folder.ts';
import { freePort, LOOPBACK } from './loopback.ts';
import { findProgram, runProgram, startProgram, untilPrinted } from './program.ts';

export interface MosquittoOptions {
  /** Name to password. Nobody gets in without one; left out, anybody does. */
  readonly users?: Readonly<Record<string, string>>;
  /** Lines of an access list. */
  readonly access?: readonly string[];
  /** More lines of configuration. */
  readonly settings?: readonly string[];
}

export interface Mosquitto {
  readonly host: string;
  readonly port: number;
  readonly url: string;
  /** What the broker logged so far. */
  log(): string;
  /** Ends the broker and starts it again on the same port; what it held in memory is lost. */
  restart(): Promise<void>;
  /** Ends the broker; what is returned starts it again on the same port. */
  pause(): Promise<() => Promise<void>>;
  stop(): Promise<void>;
}

export async function startMosquitto(options: MosquittoOptions = {}): Promise<Mosquitto> {
  const folder = makeFolder('mosquitto');
  const port = await freePort();
  const file = join(folder.path, 'mosquitto.conf');
  writeFileSync(file, (await configuration(folder.path, port, options)).join('\n'));
  const start = async () => {
    const started = startProgram(findProgram('mosquitto'), { args: ['-c', file] });
    await untilPrinted(started, /mosquitto version \S+ running/);
    return started;
  };
  let broker = await start();
  return {
    host: LOOPBACK,
    port,
    url: `mqtt://${LOOPBACK}:${port}`,
    log: () => broker.output(),
    restart: async () => {
      await broker.stop();
      broker = await start();
    },
    pause: async () => {
      await broker.stop();
      return async () => {
        broker = await start();
      };
    },
    stop: async () => {
      await broker.stop();
      folder.remove();
    },
  };
}

async function configuration(folder: string, port: number, options: MosquittoOptions): Promise<readonly string[]> {
  const lines = [`listener ${port} ${LOOPBACK}`, `user ${userInfo().username}`, 'log_dest stderr', 'log_type all'];
  if (options.users === undefined) {
    lines.push('allow_anonymous true');
  } else {
    const passwords = join(folder, 'passwords');
    writeFileSync(passwords, '', { mode: 0o600 });
    for (const [name, password] of Object.entries(options.users)) {
      await runProgram(findProgram('mosquitto_passwd'), { args: ['-b', passwords, name, password] });
    }
    lines.push('allow_anonymous false', `password_file ${passwords}`);
  }
  if (options.access !== undefined) {
    const access = join(folder, 'access');
    writeFileSync(access, options.access.join('\n'), { mode: 0o600 });
    lines.push(`acl_file ${access}`);
  }
  return [...lines, ...(options.settings ?? []), ''];
}
