// A certificate of the service's own, read by what reads certificates everywhere: OpenSSL, and Node's own TLS.
import { X509Certificate } from 'node:crypto';
import { readdirSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { createServer, connect, type TLSSocket } from 'node:tls';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { openOwnCertificate, type OwnCertificate } from '../../../services/certificates/index.ts';
import { makeFolder, type Folder } from '../../environment/folder.ts';
import { findProgram, runProgram } from '../../environment/program.ts';

const NOW = Date.now();
const DAY_MS = 86_400_000;
const NAMES = ['shop-server', 'localhost', '127.0.0.1', '::1'];

let folder: Folder;
beforeEach(() => {
  folder = makeFolder('own-certificate');
});
afterEach(() => folder.remove());

const open = (more: { readonly names?: readonly string[]; readonly at?: number } = {}): Promise<OwnCertificate> =>
  openOwnCertificate({ dataDir: folder.path, plant: 'north-1', names: NAMES, at: NOW, ...more });

const serverOf = ({ cert }: OwnCertificate): X509Certificate => new X509Certificate(cert);

describe('what is made', () => {
  test('OpenSSL finds the server signed by the authority, for its names, as a server', async () => {
    await open();
    const [authority, server] = ['authority.pem', 'server.pem'].map((name) => join(folder.path, 'certificates', name));
    const openssl = findProgram('openssl');
    const strict = ['verify', '-x509_strict', '-purpose', 'sslserver', '-CAfile', authority ?? ''];
    const verified = async (...args: readonly string[]): Promise<string> =>
      (await runProgram(openssl, { args: [...strict, ...args, server ?? ''] })).output;
    for (const name of ['shop-server', 'localhost']) expect(await verified('-verify_hostname', name)).toContain('OK');
    for (const address of ['127.0.0.1', '::1']) expect(await verified('-verify_ip', address)).toContain('OK');
  });

  test('a client that trusts the authority alone connects, by name and by address', async () => {
    const own = await open();
    const server = createServer({ cert: own.cert, key: own.key }, (socket) => socket.end('here'));
    await new Promise<void>((resolve) => {
      server.listen(0, '127.0.0.1', resolve);
    });
    const { port } = server.address() as { port: number };
    for (const servername of ['localhost', 'shop-server']) {
      const socket = await connected({ port, servername, ca: own.authority });
      expect(socket.authorized).toBe(true);
      socket.destroy();
    }
    await expect(connected({ port, servername: 'another-server', ca: own.authority })).rejects.toThrow(
      /another-server/,
    );
    await expect(connected({ port, servername: 'localhost' })).rejects.toThrow(/certificate/);
    await new Promise((resolve) => {
      server.close(resolve);
    });
  });

  test('an authority that signs servers only, and files for their owner alone', async () => {
    const own = await open();
    const authority = new X509Certificate(own.authority);
    expect(authority.ca).toBe(true);
    expect(serverOf(own).ca).toBe(false);
    expect(own.fingerprint).toBe(authority.fingerprint256);
    const files = readdirSync(join(folder.path, 'certificates'));
    expect(files.toSorted()).toEqual(['authority-key.pem', 'authority.pem', 'server-key.pem', 'server.pem']);
    for (const file of files) expect(statSync(join(folder.path, 'certificates', file)).mode & 0o777).toBe(0o600);
  });

  test('no longer than browsers take: at most 398 days', async () => {
    const { endsAt } = await open();
    expect((endsAt - NOW) / DAY_MS).toBeLessThanOrEqual(398);
  });
});

describe('at a later start', () => {
  test('the same as long as it will do', async () => {
    const first = await open();
    expect(await open({ at: NOW + 100 * DAY_MS })).toEqual(first);
    expect(await open({ names: ['localhost'] })).toMatchObject({ cert: first.cert });
  });

  test.each([
    ['when it ends soon', { at: NOW + 250 * DAY_MS }],
    ['after it has ended', { at: NOW + 900 * DAY_MS }],
    ['for an address that is new', { names: [...NAMES, '192.0.2.7'] }],
  ])('a new one of the same authority %s', async (_, more) => {
    const first = await open();
    const next = await open(more);
    expect(next.authority).toBe(first.authority);
    expect(next.cert).not.toBe(first.cert);
    expect(next.endsAt).toBeGreaterThanOrEqual(first.endsAt);
  });

  test('a new authority in time, never in the middle of a server’s', async () => {
    const first = await open();
    const next = await open({ at: NOW + 3500 * DAY_MS });
    expect(next.authority).not.toBe(first.authority);
    expect(serverOf(next).verify(new X509Certificate(next.authority).publicKey)).toBe(true);
  });

  test('a server’s that another authority signed is made anew', async () => {
    const first = await open();
    const other = makeFolder('other-certificate');
    const foreign = await openOwnCertificate({ dataDir: other.path, plant: 'north-1', names: NAMES, at: NOW });
    other.remove();
    writeFileSync(join(folder.path, 'certificates', 'server.pem'), foreign.cert);
    const next = await open();
    expect(next.authority).toBe(first.authority);
    expect(serverOf(next).verify(new X509Certificate(first.authority).publicKey)).toBe(true);
  });
});

function connected(asked: {
  readonly port: number;
  readonly servername: string;
  readonly ca?: string;
}): Promise<TLSSocket> {
  return new Promise((resolve, reject) => {
    const socket = connect({ host: '127.0.0.1', ...asked }, () => resolve(socket));
    socket.once('error', reject);
  });
}
