// A hold reaches a receiver as a signed notice, each of its states once, and the hold shows that it was delivered.
import { createHmac } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { HoldView } from '../../shared/views.ts';
import { waitFor } from '../environment/wait-for.ts';
import { startReceiver, type Received, type Receiver } from '../services/alerts/receiver.ts';
import { Person } from './person.ts';
import { BUILD, result, SPINDLES } from './plant.ts';
import { sealed, startStand, type Stand, type StandClient } from './stand.ts';

let receiver: Receiver;
let stand: Stand;
let bench: StandClient;
let ada: Person;
let isOut = false;

beforeAll(async () => {
  receiver = await startReceiver(() => ({ status: isOut ? 503 : 204 }));
  stand = await startStand({
    devices: [{ device: 'bench-1', kind: 'bench' }],
    spindles: SPINDLES,
    args: ['--webhook-url', receiver.url, '--public-url', 'http://counterpoise.test'],
  });
  bench = await stand.device('bench-1');
  ada = await Person.join(() => stand.url, 'ada', stand.firstToken());
}, 90_000);
afterAll(async () => {
  await bench?.stop();
  await stand?.stop();
  await receiver?.close();
});

interface Notice {
  readonly id: string;
  readonly data: { readonly holds: readonly HoldView[]; readonly page?: string };
}

const noticeOf = ({ body }: Received): Notice => JSON.parse(body) as Notice;

/** As a receiver with the key checks it: HMAC-SHA-256 (RFC 2104) over timestamp and body. */
function isGenuine({ headers, body }: Received): boolean {
  const key = Buffer.from(readFileSync(join(stand.data, 'webhook-key'), 'utf8').trim(), 'hex');
  const timestamp = headers['counterpoise-timestamp'] ?? '';
  const isFresh = Math.abs(Date.now() / 1000 - Number(timestamp)) < 300;
  const expected = createHmac('sha256', key).update(`${timestamp}.${body}`).digest('hex');
  return isFresh && headers['counterpoise-signature'] === `sha256=${expected}`;
}

function stateTold(state: string, assemblyId: string): Promise<Received> {
  return waitFor(`the notice that ${assemblyId} is ${state}`, () =>
    receiver.received.find((received) => {
      const [hold] = noticeOf(received).data.holds;
      return hold?.state === state && hold.subject.id === assemblyId;
    }),
  );
}

async function exceed(assemblyId: string): Promise<void> {
  const buildId = `B-${assemblyId}`;
  await bench.send('build', sealed('bench-1', 'build', { ...BUILD, assemblyId, buildId }));
  await bench.send('result', sealed('bench-1', 'result', result(6, { assemblyId, buildId })));
}

function sent(holdId: string, count: number): Promise<HoldView> {
  return waitFor(`${count} notices on record`, async () => {
    const { body } = await ada.get<HoldView>(`/api/holds/${holdId}`);
    return body.notices.filter(({ outcome }) => outcome === 'sent').length === count && body;
  });
}

test('raised: told once, signed, with the sentence, the cautions and the way to the page', async () => {
  await exceed('A-21');
  const notice = await stateTold('raised', 'A-21');
  expect(isGenuine(notice)).toBe(true);
  const [hold] = noticeOf(notice).data.holds;
  expect(hold?.reason).toBe('residual-exceeds');
  expect(hold?.sentence).toMatch(/^A-21 is on hold/);
  expect(hold?.cautions.join(' ')).toMatch(/Advisory only/);
  const { page = '' } = noticeOf(notice).data;
  expect(page).toMatch(/^http:\/\/counterpoise\.test\/holds\/H-/);
  const shown = await sent(page.split('/').at(-1) ?? '', 1);
  expect(shown.notices).toMatchObject([{ channel: 'webhook', outcome: 'sent', attempt: 1 }]);
});

test('a receiver that is out is told when it is back, also by a service that was started anew meanwhile', async () => {
  isOut = true;
  await exceed('A-22');
  const failed = await ada.hold('a failed try on record', ({ subject, notices }) => {
    return subject.id === 'A-22' && notices.some(({ outcome }) => outcome === 'failed');
  });
  await stand.restart();
  isOut = false;
  const notice = await stateTold('raised', 'A-22');
  expect(isGenuine(notice)).toBe(true);
  const told = await sent(failed.holdId, 1);
  expect(told.notices.length).toBeGreaterThan(1);
  // What was told before the restart is not told again.
  const ofFirst = receiver.received.filter((one) => noticeOf(one).data.holds[0]?.subject.id === 'A-21');
  expect(ofFirst).toHaveLength(1);
}, 60_000);

test('an administrator can see whether a notice would arrive', async () => {
  const tried = await ada.post<{ ok: boolean }>('/api/notices/test', { channel: 'webhook' });
  expect(tried).toMatchObject({ status: 200, body: { ok: true } });
  expect(receiver.received.map(noticeOf).filter(({ data }) => data.holds.length === 0)).toHaveLength(1);
});
