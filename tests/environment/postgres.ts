// A PostgreSQL server of a test's own: a new cluster in a folder that goes with it, on the loopback interface, with
// the durability settings that the product relies on.
import { chownSync } from 'node:fs';
import { join } from 'node:path';
import { Client } from 'pg';
import { makeFolder } from './folder.ts';
import { freePort, LOOPBACK } from './loopback.ts';
import { findProgram, runProgram, startProgram, untilPrinted, type Program } from './program.ts';

const READY = 'database system is ready to accept connections';

export interface Postgres {
  readonly port: number;
  /** The server's own database; tests take a fresh one each. */
  readonly url: string;
  /** Creates an empty database and returns its URL. */
  freshDatabase(name: string): Promise<string>;
  /** Ends the server as a crash would, without letting it tidy up, and starts it again on the same folder and port. */
  crashAndRestart(): Promise<void>;
  stop(): Promise<void>;
}

export async function startPostgres(): Promise<Postgres> {
  const user = await serverUser();
  const folder = makeFolder('postgres');
  if (user !== undefined) chownSync(folder.path, user.uid, user.gid);
  const data = join(folder.path, 'data');
  const asUser = user === undefined ? {} : { user };
  const init = ['-D', data, '-U', 'postgres', '-A', 'trust', '-E', 'UTF8', '--locale=C.UTF-8', '--no-sync'];
  await runProgram(findProgram('initdb'), { ...asUser, cwd: folder.path, args: init });
  const port = await freePort();
  const start = async (): Promise<Program> => {
    const server = startProgram(findProgram('postgres'), {
      ...asUser,
      cwd: folder.path,
      stopSignal: 'SIGINT',
      args: ['-D', data, ...settings(port)],
    });
    await untilPrinted(server, READY);
    return server;
  };
  let server = await start();
  const urlOf = (database: string): string => `postgres://postgres@${LOOPBACK}:${port}/${database}`;
  return {
    port,
    url: urlOf('postgres'),
    freshDatabase: async (name) => {
      await command(urlOf('postgres'), `create database "${name}"`);
      return urlOf(name);
    },
    crashAndRestart: async () => {
      server.kill('SIGQUIT');
      await server.ended;
      server = await start();
    },
    stop: async () => {
      await server.stop();
      folder.remove();
    },
  };
}

function settings(port: number): readonly string[] {
  const values = {
    listen_addresses: LOOPBACK,
    port: String(port),
    unix_socket_directories: '',
    fsync: 'on',
    synchronous_commit: 'on',
    full_page_writes: 'on',
    max_connections: '60',
    shared_buffers: '64MB',
  };
  return Object.entries(values).flatMap(([name, value]) => ['-c', `${name}=${value}`]);
}

/** The server refuses to run as root: then Debian's own user for it runs it. */
async function serverUser(): Promise<{ uid: number; gid: number } | undefined> {
  if (process.getuid?.() !== 0) return undefined;
  const [uid, gid] = await Promise.all(
    ['-u', '-g'].map(async (option) =>
      Number((await runProgram('/usr/bin/id', { args: [option, 'postgres'] })).output),
    ),
  );
  if (uid === undefined || gid === undefined) throw new Error('there is no user postgres');
  return { uid, gid };
}

async function command(url: string, sql: string): Promise<void> {
  const client = new Client({ connectionString: url });
  await client.connect();
  try {
    await client.query(sql);
  } finally {
    await client.end();
  }
}
