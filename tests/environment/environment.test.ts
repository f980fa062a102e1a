// The environment's own tests: each foreign program starts, does its job once, and is gone afterwards.
import { Client } from 'pg';
import { expect, test } from 'vitest';
import { openBrowser } from './chromium.ts';
import { foreignPublish, foreignSubscribe } from './mosquitto-clients.ts';
import { startMosquitto } from './mosquitto.ts';
import { startPaho } from './paho.ts';
import { startPostgres } from './postgres.ts';
import { runProgram, startProgram, untilPrinted } from './program.ts';
import { waitFor } from './wait-for.ts';

test('a condition that never comes is named', async () => {
  await expect(waitFor('a green moon', () => undefined, 50)).rejects.toThrow('a green moon');
});

test('a program that ends before it is ready shows what it printed', async () => {
  const program = startProgram('/bin/sh', { args: ['-c', 'echo out of paper; exit 3'] });
  await expect(untilPrinted(program, 'ready')).rejects.toThrow(/ended with 3[\s\S]*out of paper/);
  await expect(runProgram('/bin/sh', { args: ['-c', 'exit 4'] })).rejects.toThrow('ended with 4');
});

test('PostgreSQL keeps what was committed when its server crashes', async () => {
  const server = await startPostgres();
  const url = await server.freshDatabase('one');
  await query(url, 'create table kept (n integer); insert into kept values (7)');
  await server.crashAndRestart();
  expect(await query(url, 'select n from kept')).toEqual([{ n: 7 }]);
  await server.stop();
  await expect(query(url, 'select 1')).rejects.toThrow('ECONNREFUSED');
});

test('mosquitto lets in whom it knows, and a Paho device and mosquitto’s own clients hear each other', async () => {
  const broker = await startMosquitto({ users: { bench: 'secret' } });
  const known = { port: broker.port, user: 'bench', password: 'secret' };
  const stranger = await foreignPublish({ port: broker.port, topic: 'a', payload: 'x' });
  expect(stranger.code).toBe(5);

  const device = await startPaho({ ...known, clientId: 'paho-1', will: { topic: 'gone', payload: 'paho-1' } });
  expect(device.connectCode).toBe(0);
  expect(await device.subscribe('to/paho')).toBe(1);
  const listener = await foreignSubscribe({ ...known, topics: ['from/paho', 'gone'] });
  await device.publish('from/paho', 'größer', { retain: true });
  expect(await listener.next((m) => m.topic === 'from/paho')).toMatchObject({ payload: 'größer', qos: 1 });
  expect((await foreignPublish({ ...known, topic: 'to/paho', payload: 'two\nlines' })).code).toBe(0);
  expect((await device.next((m) => m.topic === 'to/paho')).payload).toBe('two\nlines');
  await device.die();
  expect((await listener.next((m) => m.topic === 'gone')).payload).toBe('paho-1');

  await listener.stop();
  await broker.stop();
  expect((await foreignPublish({ ...known, topic: 'a', payload: 'x' })).code).not.toBe(0);
});

test('Chromium renders a page and forgets it', async () => {
  const open = await openBrowser();
  const page = await open.page();
  await page.setContent('<h1>Spindle 4</h1>');
  expect(await page.locator('h1').textContent()).toBe('Spindle 4');
  await open.stop();
  expect(open.browser.isConnected()).toBe(false);
});

test('a program that is told to stop is gone', async () => {
  const sleeper = startProgram('/bin/sleep', { args: ['600'] });
  await sleeper.stop();
  expect(() => process.kill(sleeper.pid, 0)).toThrow('ESRCH');
});

async function query(url: string, sql: string): Promise<unknown[]> {
  const client = new Client({ connectionString: url });
  await client.connect();
  try {
    const { rows } = await client.query<Record<string, unknown>>(sql);
    return rows;
  } finally {
    await client.end();
  }
}
