// The feed over real sockets: who is let up, snapshot then changes without a gap, slow readers, ended sessions.
import fc from 'fast-check';
import { afterEach, expect, test } from 'vitest';
import type { WebSocket } from 'ws';
import { FeedMember, type Frame } from '../../../services/gateway/feed-member.ts';
import { openBench, type Bench, type BenchOptions } from './bench.ts';
import { NO_ORIGIN, watch, type Watcher } from './watcher.ts';

const benches: Bench[] = [];
afterEach(async () => {
  for (const bench of benches.splice(0)) await bench.close();
});

async function open(options: BenchOptions = {}): Promise<{ bench: Bench; url: string; cookie: string }> {
  const bench = await openBench(options);
  benches.push(bench);
  return { bench, url: await bench.listen(), cookie: await bench.session('viewer') };
}

function consecutive(numbers: readonly number[]): boolean {
  return numbers.every((number, index) => index === 0 || number === (numbers[index - 1] ?? 0) + 1);
}

/** Refused before the upgrade: the answer is plain HTTP with its status. */
async function refused(url: string, headers: Readonly<Record<string, string>>): Promise<string> {
  return watch(url, headers).then(
    () => 'let up',
    (error: Error) => error.message,
  );
}

test('nobody gets a socket without a session, from another site, or without saying where from', async () => {
  const { bench, url, cookie } = await open();
  expect(await refused(url, {})).toContain('401');
  expect(await refused(url, { cookie: 'counterpoise=guess' })).toContain('401');
  expect(await refused(url, { cookie, origin: 'http://elsewhere.test' })).toContain('403');
  expect(await refused(url, { cookie, origin: 'null' })).toContain('403');
  expect(await refused(url, { cookie, origin: NO_ORIGIN })).toContain('403');
  expect(await bench.connections()).toBe(0);
  const plain = await bench.gateway.inject({ url: '/api/feed', headers: { cookie } });
  expect(plain.statusCode).toBe(426);
  expect(bench.plant.watchers.size).toBe(0);
});

test('there is room for so many and no more', async () => {
  const { url, cookie } = await open({ settings: { limits: { feedConnectionsMax: 2 } } });
  const watchers = [await watch(url, { cookie }), await watch(url, { cookie })];
  expect(await refused(url, { cookie })).toContain('503');
  watchers[0]?.socket.close();
  await watchers[0]?.closed();
  await expect(watch(url, { cookie })).resolves.toBeDefined();
});

test('a snapshot comes first, then every change; the plant is watched only while somebody looks', async () => {
  const { bench, url, cookie } = await open();
  bench.plant.number = 41;
  const watcher = await watch(url, { cookie });
  await watcher.until('the snapshot', () => watcher.frames.length === 1);
  expect(watcher.frames[0]).toMatchObject({ frame: 'snapshot', number: 41, floor: { plant: 'trial' } });
  bench.plant.change();
  bench.plant.change();
  await watcher.until('two changes', () => watcher.frames.length === 3);
  expect(watcher.numbers()).toEqual([41, 42, 43]);
  expect(bench.plant.watchers.size).toBe(1);
  watcher.socket.close();
  await watcher.until('nobody to watch', () => bench.plant.watchers.size === 0);
});

test('no gap for whoever joins while changes are made, however late the snapshots are', async () => {
  const { bench, url, cookie } = await open();
  let release: () => void = () => undefined;
  const held = new Promise<void>((resolve) => (release = resolve));
  bench.plant.beforeSnapshot = () => held;
  const early = await Promise.all([watch(url, { cookie }), watch(url, { cookie })]);
  await early[0]?.until('the plant to be watched', () => bench.plant.watchers.size === 1);
  for (let n = 0; n < 20; n += 1) bench.plant.change();
  release();
  const late = Array.from({ length: 5 }, async () => {
    const watcher = await watch(url, { cookie });
    for (let n = 0; n < 7; n += 1) {
      bench.plant.change();
      await new Promise((resolve) => setImmediate(resolve));
    }
    return watcher;
  });
  const all: Watcher[] = [...early, ...(await Promise.all(late))];
  bench.plant.change();
  const last = bench.plant.number;
  for (const watcher of all) {
    await watcher.until('the last frame', () => watcher.numbers().at(-1) === last);
    expect(watcher.frames[0]?.frame).toBe('snapshot');
    expect(watcher.frames.slice(1).every((frame) => frame.frame === 'change')).toBe(true);
    expect(consecutive(watcher.numbers())).toBe(true);
  }
});

test('whoever reads too slowly misses frames, not the present: a fresh snapshot comes when it reads again', async () => {
  const { bench, url, cookie } = await open({ settings: { limits: { feedBufferedBytesMax: 64 * 1024 } } });
  bench.plant.padding = 'x'.repeat(256 * 1024);
  const slow = await watch(url, { cookie });
  const quick = await watch(url, { cookie });
  await slow.until('the snapshot', () => slow.frames.length === 1);
  slow.socket.pause();
  for (let n = 0; n < 120; n += 1) {
    bench.plant.change();
    await quick.until('the quick one to have it', () => quick.numbers().at(-1) === bench.plant.number);
  }
  expect(consecutive(quick.numbers())).toBe(true);
  slow.socket.resume();
  await slow.until('a snapshot of later', () => {
    bench.plant.change();
    return slow.frames.some((frame, index) => index > 0 && frame.frame === 'snapshot');
  });
  const at = slow.frames.findLastIndex((frame) => frame.frame === 'snapshot');
  expect(slow.frames.length).toBeLessThan(120);
  expect(consecutive(slow.numbers().slice(at))).toBe(true);
});

test('whoever never catches up is let go', async () => {
  const { bench, url, cookie } = await open({ settings: { limits: { feedBufferedBytesMax: 1024, feedBehindMs: 0 } } });
  bench.plant.padding = 'x'.repeat(1024 * 1024);
  const stuck = await watch(url, { cookie });
  await stuck.until('the snapshot', () => stuck.frames.length === 1);
  stuck.socket.pause();
  await stuck.until('the socket to be gone', async () => {
    bench.plant.change();
    return (await bench.connections()) === 0;
  });
  expect(bench.plant.watchers.size).toBe(0);
});

test('whoever does not answer a ping is let go', async () => {
  const { bench, url, cookie } = await open({ settings: { limits: { feedPingMs: 30 } } });
  const answering = await watch(url, { cookie });
  const mute = await watch(url, { cookie });
  mute.socket.pause();
  await answering.until('the mute one to be gone', async () => (await bench.connections()) === 1);
  expect(answering.socket.readyState).toBe(answering.socket.OPEN);
});

test('signing out, being disabled, and the end of the session close the feed at once', async () => {
  const { bench, url, cookie } = await open({ settings: { limits: { feedPingMs: 30 } } });
  const watcher = await watch(url, { cookie });
  await bench.gateway.inject({ method: 'DELETE', url: '/api/session', headers: { cookie } });
  expect(await watcher.closed()).toBe(4401);

  const other = await bench.session('viewer');
  const disabled = await watch(url, { cookie: other });
  await bench.access.changeUser('Ada', 'user-2', { disabled: true });
  expect(await disabled.closed()).toBe(4401);

  const third = await watch(url, { cookie: await bench.session('viewer') });
  bench.pass(13 * 3_600_000);
  expect(await third.closed()).toBe(4401);
});

test('a client has nothing to say: a message closes, a large one too', async () => {
  const { url, cookie } = await open();
  const talker = await watch(url, { cookie });
  talker.socket.send('hello');
  expect(await talker.closed()).toBe(1008);
  const shouter = await watch(url, { cookie });
  shouter.socket.send('x'.repeat(100_000));
  expect([1008, 1009]).toContain(await shouter.closed());
});

test('a plant that gives no snapshot costs the connection, not the gateway', async () => {
  const { bench, url, cookie } = await open();
  bench.plant.beforeSnapshot = () => Promise.reject(new Error('busy'));
  const watcher = await watch(url, { cookie });
  expect(await watcher.closed()).toBe(1006);
  bench.plant.beforeSnapshot = () => Promise.resolve();
  const next = await watch(url, { cookie });
  await next.until('the snapshot', () => next.frames.length === 1);
});

test('closing says that the service goes away', async () => {
  const { bench, url, cookie } = await open();
  const watcher = await watch(url, { cookie });
  await bench.gateway.close();
  expect(await watcher.closed()).toBe(1001);
});

/** What a dashboard can count on, for any order of changes, snapshots, stalls and drains. */
test('whatever happens, each snapshot is followed by the next numbers only', () => {
  const step = fc.constantFrom('change', 'change', 'lost', 'give', 'stall', 'drain');
  fc.assert(
    fc.property(fc.array(step, { maxLength: 200 }), fc.integer({ min: 1, max: 8 }), (steps, pendingFramesMax) => {
      const sent: Frame[] = [];
      const socket = {
        bufferedAmount: 0,
        readyState: 1,
        OPEN: 1,
        send: (bytes: Buffer) => sent.push(JSON.parse(String(bytes)) as Frame),
        terminate: () => undefined,
      };
      let asked = 0;
      let number = 0;
      let last: number | undefined;
      const frame = (kind: string): Frame => ({ number, bytes: Buffer.from(JSON.stringify({ kind, number })) });
      const member = new FeedMember(
        { socket: socket as unknown as WebSocket, name: 'Mia', token: '' },
        { pendingFramesMax, behindMs: Infinity },
        { askSnapshot: () => void (asked += 1), bufferedBytesMax: () => 10, now: () => 0, skipped: () => undefined },
      );
      const give = (): void => {
        if (asked === 0) return;
        asked -= 1;
        member.arrive(frame('snapshot'), last);
      };
      const change = (): void => {
        number += 1;
        last = number;
        member.take(frame('change'));
      };
      member.begin();
      for (const what of steps) {
        if (what === 'change') change();
        else if (what === 'lost') number += 1;
        else if (what === 'give') give();
        else socket.bufferedAmount = what === 'stall' ? 100 : 0;
      }
      socket.bufferedAmount = 0;
      // In the end it stands at the present, whatever was lost or stalled before.
      for (let n = 0; n < 3; n += 1) {
        change();
        give();
      }
      const frames = sent as unknown as { kind: string; number: number }[];
      expect(frames[0]?.kind).toBe('snapshot');
      expect(frames.at(-1)?.number).toBe(number);
      const wrong = frames.filter(
        (one, index) => one.kind === 'change' && one.number !== (frames[index - 1]?.number ?? -1) + 1,
      );
      expect(wrong).toEqual([]);
    }),
  );
});
