// The commands that the page Plant shows: where they go, what a shell makes of them, and that each message is one the intake takes.
import { execFileSync } from 'node:child_process';
import { expect, test } from 'vitest';
import { quoted, stepsOf, whereOf, type Where } from '../../../dashboard/plant/device-commands.ts';
import type { DeviceWithSecret } from '../../../dashboard/plant/plant-asks.ts';
import { Birth } from '../../../shared/messages/index.ts';

const WHERE: Where = { plant: 'north-1', broker: { host: '10.0.0.5', port: 1884, tls: false }, ownAuthority: false };
const SENSOR: DeviceWithSecret = { device: 'sensor-7', kind: 'sensor', serves: ['S-07'], secret: "it's $HOME `x`" };

/** What the program would be given, word by word. */
function words(command: string): readonly string[] {
  const script = `mosquitto_pub() { printf '%s\\n' "$@"; }\nmosquitto_rr() { mosquitto_pub "$@"; }\n${command}`;
  return execFileSync('/bin/sh', ['-c', script]).toString().split('\n');
}

test('a secret stays what it is in a shell', () => {
  const given = words(stepsOf(SENSOR, WHERE)[0]?.command ?? '');
  expect(given.slice(0, 10)).toEqual([
    '-h',
    '10.0.0.5',
    '-p',
    '1884',
    '-i',
    'sensor-7',
    '-u',
    'sensor-7',
    '-P',
    SENSOR.secret,
  ]);
  expect(quoted("a'b")).toBe(`'a'\\''b'`);
});

test.each(['sensor', 'machine', 'bench'] as const)(
  'each message of a %s is JSON with an id and a time of its own',
  (kind) => {
    for (const { command } of stepsOf({ ...SENSOR, kind }, WHERE)) {
      const given = words(command);
      const message = JSON.parse(given[given.indexOf('-m') + 1] ?? '') as { id: string; time: string; data: unknown };
      expect(message.id).toMatch(/^[a-z]+-\d+$/);
      expect(Date.parse(message.time)).toBeGreaterThan(0);
    }
  },
);

test('the birth is one that is taken', () => {
  const given = words(stepsOf(SENSOR, WHERE)[0]?.command ?? '');
  const { data } = JSON.parse(given[given.indexOf('-m') + 1] ?? '') as { data: unknown };
  expect(Birth.parse(data)).toEqual({ kind: 'sensor', serves: ['S-07'], intervalS: 1 });
});

test.each([
  ['0.0.0.0', '192.168.7.2'],
  ['::', '192.168.7.2'],
  ['10.0.0.5', '10.0.0.5'],
])('listening at %s is reached at %s', (host, reached) => {
  const connecting = { version: '0', ownAuthority: false, broker: { host, port: 1883, tls: false } };
  expect(whereOf(connecting, 'north-1', '192.168.7.2')?.broker.host).toBe(reached);
});

test('over TLS the commands say whom to trust; with an external broker there are none', () => {
  const tls = { ...WHERE, broker: { ...WHERE.broker, tls: true } };
  expect(stepsOf(SENSOR, tls)[0]?.command).toContain(' --tls-use-os-certs ');
  expect(stepsOf(SENSOR, { ...tls, ownAuthority: true })[0]?.command).toContain(
    ' --cafile counterpoise-authority.crt ',
  );
  expect(whereOf({ version: '0', ownAuthority: false }, 'north-1', 'here')).toBeUndefined();
});
