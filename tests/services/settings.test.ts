// Settings from four places, with all that is wrong with them said at once.
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { isInTheClear, readSettings, SettingsFault } from '../../services/settings.ts';
import { makeFolder, type Folder } from '../environment/folder.ts';

let folder: Folder;
beforeAll(() => {
  folder = makeFolder('settings');
});
afterAll(() => folder.remove());

function file(name: string, text: string): string {
  const path = join(folder.path, name);
  writeFileSync(path, text);
  return path;
}

function faultsOf(read: () => unknown): string {
  try {
    read();
  } catch (failure) {
    if (failure instanceof SettingsFault) return failure.message;
    throw failure;
  }
  return 'no fault';
}

test('flags before the environment before the file before the defaults', () => {
  const yaml = file('order.yaml', 'plant: from-file\ntickS: 30\nhttpPort: 9000\n');
  const environment = { COUNTERPOISE_PLANT: 'from-environment', COUNTERPOISE_TICK_S: '20', HOME: '/root' };
  const settings = readSettings({ plant: 'from-flag', tickS: undefined }, environment, yaml, { mqttPort: 18_830 });
  expect(settings).toMatchObject({ plant: 'from-flag', tickS: 20, httpPort: 9000, mqttPort: 18_830, data: 'data' });
  expect(Object.isFrozen(settings)).toBe(true);
});

test('all faults at once, each by its name', () => {
  const words = faultsOf(() => readSettings({ plant: 'two words', httpPort: '99999', webhookUrl: 'nowhere' }, {}));
  for (const name of ['plant:', 'httpPort:', 'webhookUrl:']) expect(words).toContain(name);
});

interface Row {
  readonly name: string;
  readonly flags?: Readonly<Record<string, unknown>>;
  readonly environment?: Readonly<Record<string, string>>;
  readonly says: RegExp;
}

const WRONG: readonly Row[] = [
  { name: 'a flag nobody knows', flags: { color: 'green' }, says: /color/ },
  { name: 'a name in the environment nobody knows', environment: { COUNTERPOISE_PROT: '1' }, says: /prot/ },
  { name: 'a port that is none', flags: { mqttPort: '-1' }, says: /mqttPort/ },
  { name: 'a zone that is none', flags: { zone: 'Mars/Olympus' }, says: /zone: expected a time zone/ },
  { name: 'a journal that is no PostgreSQL', flags: { journal: 'mysql://x' }, says: /journal: expected postgres/ },
  { name: 'a broker that is none', flags: { broker: 'http://x' }, says: /broker: expected mqtt/ },
  { name: 'a key without its certificate', flags: { httpKeyFile: 'k.pem' }, says: /HTTPS needs both/ },
  { name: 'a certificate without its key', flags: { mqttCertFile: 'c.pem' }, says: /TLS needs both/ },
  {
    name: 'a secret whose file is not there',
    environment: { COUNTERPOISE_JOURNAL_FILE: '/no/file' },
    says: /no\/file cannot be read: there is no such file/,
  },
];

test.each(WRONG)('refused: $name', ({ flags = {}, environment = {}, says }) => {
  expect(faultsOf(() => readSettings(flags, environment))).toMatch(says);
});

test('a file that is no YAML, or not there, or a list', () => {
  expect(faultsOf(() => readSettings({}, {}, file('bad.yaml', 'a: [1')))).toMatch(/bad\.yaml/);
  expect(faultsOf(() => readSettings({}, {}, join(folder.path, 'none.yaml')))).toMatch(/none\.yaml/);
  expect(faultsOf(() => readSettings({}, {}, file('list.yaml', '- plant')))).toMatch(/one setting a line/);
  expect(readSettings({}, {}, file('empty.yaml', '')).plant).toBe('plant-1');
});

test('a secret may stand in a file that the environment names', () => {
  const path = file('journal-url', 'postgres://me:secret@db/plant\n');
  expect(readSettings({}, { COUNTERPOISE_JOURNAL_FILE: path }).journal).toBe('postgres://me:secret@db/plant');
  // A setting that is itself a file keeps its meaning.
  expect(readSettings({}, { COUNTERPOISE_WEBHOOK_KEY_FILE: path }).webhookKeyFile).toBe(path);
});

test('the password of a command that signs in is no setting', () => {
  expect(readSettings({}, { COUNTERPOISE_PASSWORD: 'of an engineer' })).toEqual(readSettings({}, {}));
});

test('yes and no in words', () => {
  expect(readSettings({ insecureLan: true }, {}).insecureLan).toBe(true);
  expect(readSettings({}, { COUNTERPOISE_INSECURE_LAN: 'no' }).insecureLan).toBe(false);
});

describe('beyond loopback', () => {
  const tls = { mqttCertFile: 'c.pem', mqttKeyFile: 'k.pem' };

  test('nothing in the clear unless somebody says so', () => {
    expect(faultsOf(() => readSettings({ httpHost: '0.0.0.0' }, {}))).toMatch(/^.*0\.0\.0\.0 can be reached/ms);
    expect(faultsOf(() => readSettings({ mqttHost: '10.0.0.5' }, {}))).toMatch(/--insecure-lan/);
  });

  test('devices by TLS need no such word; the dashboard still does', () => {
    const settings = readSettings({ mqttHost: '0.0.0.0', ...tls }, {});
    expect(isInTheClear(settings)).toBe(false);
    expect(faultsOf(() => readSettings({ httpHost: '0.0.0.0', ...tls }, {}))).toMatch(/can be reached/);
  });

  test('with a certificate for each, or of its own, neither', () => {
    const both = { httpHost: '0.0.0.0', mqttHost: '0.0.0.0' };
    const given = readSettings({ ...both, ...tls, httpCertFile: 'c.pem', httpKeyFile: 'k.pem' }, {});
    expect(isInTheClear(given)).toBe(false);
    expect(isInTheClear(readSettings({ ...both, ownCertificate: true }, {}))).toBe(false);
    expect(faultsOf(() => readSettings(both, {}))).toMatch(/--own-certificate/);
  });

  test('what was said shows on every screen only where it is so', () => {
    expect(isInTheClear(readSettings({ insecureLan: true }, {}))).toBe(false);
    expect(isInTheClear(readSettings({ insecureLan: true, httpHost: '::' }, {}))).toBe(true);
    expect(isInTheClear(readSettings({ insecureLan: true, mqttHost: '0.0.0.0', broker: 'mqtt://b' }, {}))).toBe(false);
  });

  test.each(['127.0.0.1', '127.1.2.3', '::1', 'localhost'])('%s is loopback', (httpHost) => {
    expect(readSettings({ httpHost }, {}).httpHost).toBe(httpHost);
  });
});
