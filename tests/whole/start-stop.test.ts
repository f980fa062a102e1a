// How the service begins and ends: in plain words, with exit codes, and with data that another start can go on from.
import { X509Certificate } from 'node:crypto';
import { mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { get } from 'node:https';
import { connect, createServer, type Server } from 'node:net';
import { join } from 'node:path';
import { connectAsync } from 'mqtt';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { makeCertificate } from '../environment/certificate.ts';
import { makeFolder, type Folder } from '../environment/folder.ts';
import { LOOPBACK } from '../environment/loopback.ts';
import { startProgram, untilPrinted, type Program } from '../environment/program.ts';
import { waitFor } from '../environment/wait-for.ts';
import { CLI, PLANT } from './stand.ts';

/** The type of a record of TLS that says what went wrong (RFC 8446, B.1). */
const TLS_ALERT = 21;

let folder: Folder;
beforeAll(() => {
  folder = makeFolder('start-stop');
});
afterAll(() => folder.remove());

function counterpoise(...args: readonly string[]): Program {
  return startProgram(process.execPath, { args: [CLI, ...args], cwd: folder.path });
}

function serve(data: string, ...more: readonly string[]): Program {
  return counterpoise('serve', '--plant', PLANT, '--data', data, '--http-port', '0', '--mqtt-port', '0', ...more);
}

const urlOf = (program: Program): string => /dashboard\s+(http:\S+)/.exec(program.output())?.[1] ?? '';
const readiness = async (program: Program): Promise<number> => (await fetch(`${urlOf(program)}/readyz`)).status;

async function takenPort(): Promise<{ server: Server; port: string }> {
  const server = createServer();
  await new Promise<void>((resolve) => server.listen(0, LOOPBACK, resolve));
  const address = server.address();
  if (address === null || typeof address === 'string') throw new Error('a TCP server has a port');
  return { server, port: String(address.port) };
}

describe('a start that cannot be', () => {
  test.each(['--http-port', '--mqtt-port'])('%s: taken by another program', async (option) => {
    const { server, port } = await takenPort();
    const program = serve(`taken${option}`, option, port);
    expect(await program.ended).toBe(1);
    expect(program.output()).toContain(`Another program listens at 127.0.0.1:${port}. Choose another port`);
    expect(program.output()).not.toMatch(/"level":60|at .*\.js:/);
    server.close();
  });

  test('a journal that another process writes to', async () => {
    const first = serve('same');
    await untilPrinted(first, 'Ctrl-C stops it.');
    const second = serve('same');
    expect(await second.ended).toBe(1);
    expect(second.output()).toMatch(/^another process is writing to the journal .*$/m);
    expect(second.output()).not.toMatch(/"level":[56]0/);
    await first.stop();
    expect(await first.ended).toBe(0);
  });

  test('another plant’s data, and no data at all for a command beside the service: said, code 78, nothing made', async () => {
    const first = serve('of-works');
    await untilPrinted(first, 'Ctrl-C stops it.');
    expect(first.output()).toContain(`New data directory made for plant ${PLANT}.`);
    await first.stop();
    const other = counterpoise(
      'serve',
      '--plant',
      'elsewhere',
      '--data',
      'of-works',
      '--http-port',
      '0',
      '--mqtt-port',
      '0',
    );
    expect(await other.ended).toBe(78);
    expect(other.output()).toMatch(/of-works holds the data of plant works, not of elsewhere\. Say --plant works/);
    const verbs = [['enrol', 'bench-1', '--kind', 'bench'], ['devices'], ['revoke', 'bench-1'], ['export']];
    for (const verb of verbs) {
      const strange = counterpoise(...verb, '--plant', 'elsewhere', '--data', 'of-works');
      expect(await strange.ended).toBe(78);
      const mistyped = counterpoise(...verb, '--plant', PLANT, '--data', 'of-wroks');
      expect(await mistyped.ended).toBe(78);
      expect(mistyped.output()).toMatch(/of-wroks holds no data of Counterpoise\./);
    }
    expect(readdirSync(folder.path)).not.toContain('of-wroks');
  }, 60_000);

  test('settings that cannot be used: all that is wrong at once, and code 78', async () => {
    const program = counterpoise('serve', '--plant', 'two words', '--tick-s', '0', '--http-host', 'here');
    expect(await program.ended).toBe(78);
    expect(program.output()).toMatch(/plant: expected 1 to 40 letters/);
    expect(program.output()).toMatch(/tickS: /);
  });

  test('wrong use: said in a line, and code 64', async () => {
    const program = counterpoise('start', '--clock', 'fast');
    expect(await program.ended).toBe(64);
    expect(program.output()).toMatch(/--clock <rate>' argument 'fast' is invalid. Expected a number from 1 to 3600/);
  });
});

test('ready once devices may connect; not any more before anything is closed', async () => {
  const program = serve('ready', '--drain-s', '3');
  await untilPrinted(program, 'Ctrl-C stops it.');
  expect(await readiness(program)).toBe(200);
  program.kill('SIGTERM');
  await waitFor('503', async () => (await readiness(program)) === 503);
  expect(await program.ended).toBe(0);
  expect(program.output()).toMatch(/stopped\. The data are in /);
});

test('without a terminal the first sign-in is an address and the file of its token, which is not told', async () => {
  const program = serve('first');
  await untilPrinted(program, 'Ctrl-C stops it.');
  const token =
    readFileSync(join(folder.path, 'first', 'first-sign-in'), 'utf8')
      .trim()
      .split('\n')
      .at(-1) ?? '';
  expect(program.output()).toContain(`address     ${urlOf(program)}/first-sign-in\n`);
  expect(program.output()).toMatch(/token {7}in \S+\/first\/first-sign-in \(for half an hour\)/);
  expect(program.output()).not.toContain(token);
  expect((await fetch(`${urlOf(program)}/first-sign-in`, { headers: { accept: 'text/html' } })).status).toBe(200);
  await program.stop();
});

test('mysql and the like: said which journals there are', async () => {
  const program = counterpoise('serve', '--journal', 'mysql://db/counterpoise');
  expect(await program.ended).toBe(78);
  expect(program.output()).toMatch(
    /journal: expected postgres:\/\/.*; left out, the journal is SQLite in the data directory/,
  );
});

test('its counts can be read from this computer', async () => {
  const program = serve('counts');
  await untilPrinted(program, 'Ctrl-C stops it.');
  const text = await (await fetch(`${urlOf(program)}/metrics`)).text();
  for (const name of ['devices_connected', 'deliveries_waiting', 'deliveries_total', 'commits_total']) {
    expect(text).toMatch(new RegExp(`^counterpoise_${name} 0$`, 'm'));
  }
  await program.stop();
});

test('with a token only for who has it', async () => {
  writeFileSync(join(folder.path, 'token'), 'of-the-test\n');
  const program = serve('token-counts', '--metrics-token-file', 'token');
  await untilPrinted(program, 'Ctrl-C stops it.');
  const ask = async (headers: Record<string, string>): Promise<number> =>
    (await fetch(`${urlOf(program)}/metrics`, { headers })).status;
  expect(await ask({})).toBe(404);
  expect(await ask({ authorization: 'Bearer of-the-test' })).toBe(200);
  await program.stop();
});

test('with a certificate the devices’ port speaks TLS, and TLS only', async () => {
  const certificate = await makeCertificate();
  const { certFile, keyFile } = certificate;
  const program = serve('tls', '--mqtt-cert-file', certFile, '--mqtt-key-file', keyFile);
  await untilPrinted(program, 'Ctrl-C stops it.');
  const [, port = ''] = /mqtts:\/\/127\.0\.0\.1:(\d+)/.exec(program.output()) ?? [];
  const enrolled = counterpoise('enrol', 'bench-1', '--kind', 'bench', '--plant', PLANT, '--data', 'tls', '--json');
  expect(await enrolled.ended).toBe(0);
  const { secret: password } = JSON.parse(enrolled.output()) as { secret: string };
  const login = { clientId: 'bench-1', username: 'bench-1', password, reconnectPeriod: 0 };
  const client = await connectAsync(`mqtts://127.0.0.1:${port}`, { ...login, ca: certificate.cert });
  await client.endAsync();
  // A CONNECT in plain bytes: the connection is closed, with nothing but TLS's own alert.
  const plain = connect(Number(port), LOOPBACK, () => plain.write(Buffer.from('100c00044d5154540402003c0000', 'hex')));
  const answer: Buffer[] = [];
  plain.on('data', (piece) => answer.push(piece)).on('error', () => undefined);
  await new Promise((resolve) => plain.on('close', resolve));
  expect(Buffer.concat(answer)[0] ?? TLS_ALERT).toBe(TLS_ALERT);
  await program.stop();
  certificate.remove();
});

test('with a certificate of its own the dashboard answers by HTTPS only, to whoever trusts its authority', async () => {
  const program = serve('own-certificate', '--own-certificate');
  await untilPrinted(program, 'Ctrl-C stops it.');
  const [, port = ''] = /https:\/\/127\.0\.0\.1:(\d+)/.exec(program.output()) ?? [];
  const ca = readFileSync(join(folder.path, 'own-certificate', 'certificates', 'authority.pem'), 'utf8');
  expect(program.output()).toContain(new X509Certificate(ca).fingerprint256);
  const told = await answerOf(`https://127.0.0.1:${port}/certificate`, ca);
  expect(told).toEqual({ status: 200, body: ca, sts: undefined });
  await expect(answerOf(`https://127.0.0.1:${port}/healthz`)).rejects.toThrow(/certificate/);
  await expect(fetch(`http://127.0.0.1:${port}/healthz`)).rejects.toThrow(/fetch failed/);
  // Devices on this computer are heard as before.
  expect(program.output()).toContain('mqtt://127.0.0.1:');
  await program.stop();
});

test('whatever it writes is its owner’s alone, also in a folder that others may enter', async () => {
  mkdirSync(join(folder.path, 'open'), { mode: 0o755 });
  const program = serve('open', '--webhook-url', 'http://127.0.0.1:9/none');
  await untilPrinted(program, 'Ctrl-C stops it.');
  const names = readdirSync(join(folder.path, 'open'));
  expect(names).toEqual(expect.arrayContaining(['journal.sqlite', 'trends.sqlite', 'access.sqlite', 'webhook-key']));
  for (const name of names)
    expect(`${name} ${statSync(join(folder.path, 'open', name)).mode & 0o077}`).toBe(`${name} 0`);
  await program.stop();
});

test('who reads only the head of the help ends nothing badly', async () => {
  const shell = startProgram('/bin/sh', {
    args: [
      '-c',
      `"${process.execPath}" "${CLI}" start --help | head -1; "${process.execPath}" "${CLI}" message-reference | head -1`,
    ],
  });
  expect(await shell.ended).toBe(0);
  expect(shell.output()).toMatch(/^Usage: counterpoise start/);
  expect(shell.output()).not.toMatch(/EPIPE/);
});

function answerOf(
  url: string,
  ca?: string,
): Promise<{ readonly status: number | undefined; readonly body: string; readonly sts: string | undefined }> {
  return new Promise((resolve, reject) => {
    get(url, ca === undefined ? {} : { ca }, (answer) => {
      let body = '';
      answer.setEncoding('utf8');
      answer.on('data', (piece: string) => (body += piece));
      const sts = answer.headers['strict-transport-security'];
      answer.on('end', () => resolve({ status: answer.statusCode, body, sts }));
    }).on('error', reject);
  });
}
