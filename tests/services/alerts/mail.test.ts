// Mails over a real mail server: what is in them, over TLS or not at all, each try on record, tried again, given up.
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { ALERT_LIMITS, startAlerts, type Alerts, type AlertSettings } from '../../../services/alerts/index.ts';
import { Mail, mailServer, type MailServer as Server } from '../../../services/alerts/mail.ts';
import { afterReal } from '../../../services/alerts/timer.ts';
import { makeCertificate } from '../../environment/certificate.ts';
import { makeFolder } from '../../environment/folder.ts';
import { startMailServer, type MailServer, type MailServerStart } from '../../environment/smtp.ts';
import { waitFor } from '../../environment/wait-for.ts';
import { makeBed, type Bed } from './bed.ts';
import { escalated, raisedHold } from './holds.ts';

const TO = 'tool-room=t1@plant.example,t2@plant.example; engineer=e@plant.example; maintenance=m@plant.example';

let bed: Bed;
const toClose: { close(): Promise<void> }[] = [];
beforeEach(() => {
  bed = makeBed();
});
afterEach(async () => {
  for (const one of toClose.splice(0)) await one.close();
  bed.remove();
});

async function serverOf(start?: MailServerStart): Promise<MailServer> {
  const server = await startMailServer(start);
  toClose.push(server);
  return server;
}

function startMail(
  mail: Partial<NonNullable<AlertSettings['mail']>> & { readonly server: string },
  hold = raisedHold(),
): Alerts {
  const settings = { channel: 'mail', from: 'counterpoise@plant.example', to: TO, ...mail };
  const alerts = startAlerts(
    {
      plant: 'p1',
      webhooks: [],
      mail: settings,
      dashboard: 'https://counterpoise.example/',
      limits: { attemptsMax: 2 },
    },
    {
      clock: bed.clock,
      after: bed.after,
      holds: async () => [hold],
      record: async (made) => void bed.recorded.push(made),
      log: { info: () => undefined, warn: () => undefined },
    },
  );
  toClose.unshift(alerts);
  return alerts;
}

test('a hold as a plain mail: the same sentence as elsewhere, what to do, a link, and nothing that tracks', async () => {
  const server = await serverOf();
  const hold = escalated(raisedHold(), 20);
  startMail({ server: `smtp://127.0.0.1:${server.port}` }, hold);
  await waitFor('it to happen', () => bed.recorded.length === 1);
  expect(bed.recorded).toMatchObject([
    {
      noticeId: 'H-41-1-escalated-1-mail',
      channel: 'mail',
      outcome: 'sent',
      attempt: 1,
      to: 'tool-room (2), engineer (1)',
    },
  ]);
  const [mail] = server.mails;
  expect(mail?.to).toEqual(['t1@plant.example', 't2@plant.example', 'e@plant.example']);
  expect(mail?.from).toBe('counterpoise@plant.example');
  const text = (mail?.raw ?? '').replaceAll('=\r\n', '');
  expect(text).toContain(hold.sentence);
  expect(text).toContain('Nobody has answered for 20 min. Level 1: told are engineer.');
  expect(text).toContain('https://counterpoise.example/holds/H-41-1');
  expect(text).toContain('Correct and measure again.');
  expect(text).toMatch(/^Content-Type: text\/plain/m);
  expect(text).toMatch(/^Auto-Submitted: auto-generated/im);
  expect(text).not.toMatch(/text\/html|multipart|<img|<a /i);
});

test('a test goes to everybody who is set, and is about no hold', async () => {
  const server = await serverOf();
  const alerts = startMail(
    { server: `smtp://127.0.0.1:${server.port}` },
    raisedHold('H-1-1', { state: 'void', open: false }),
  );
  expect(await alerts.test('mail')).toMatchObject({ ok: true });
  expect(server.mails.map(({ to }) => to.length)).toEqual([4]);
  expect(alerts.channels()).toEqual([{ channel: 'mail', to: 'mail by 127.0.0.1' }]);
});

test('a server that is not there is tried again, then given up; each try is on record', async () => {
  const server = await startMailServer();
  await server.close();
  startMail({ server: `smtp://127.0.0.1:${server.port}` });
  await waitFor('it to happen', () => bed.recorded.length === 1);
  await waitFor('it to happen', () => bed.waits() > 0);
  bed.advance(5000);
  await waitFor('it to happen', () => bed.recorded.length === 2);
  expect(bed.recorded.map(({ outcome, attempt }) => [outcome, attempt])).toEqual([
    ['failed', 1],
    ['given-up', 2],
  ]);
  expect(bed.recorded[0]?.detail).toContain('nothing listens there');
});

test('some addresses refused: sent to the others, and said; all refused: failed', async () => {
  const some = await serverOf({ unknown: ['t1@plant.example'] });
  startMail({ server: `smtp://127.0.0.1:${some.port}` });
  await waitFor('it to happen', () => bed.recorded.length === 1);
  expect(bed.recorded[0]).toMatchObject({
    outcome: 'sent',
    detail: expect.stringContaining('refused for 1') as unknown,
  });
  const none = await serverOf({ unknown: ['t1@plant.example', 't2@plant.example'] });
  startMail({ server: `smtp://127.0.0.1:${none.port}` });
  await waitFor('it to happen', () => bed.recorded.length === 2);
  expect(bed.recorded[1]).toMatchObject({
    outcome: 'failed',
    detail: expect.stringContaining('refused the addresses') as unknown,
  });
});

test('a server that takes the mail and never answers: the try ends in time', async () => {
  const server = await serverOf({ silent: true });
  startMail({ server: `smtp://127.0.0.1:${server.port}` });
  await waitFor('it to happen', () => server.mails.length === 1);
  bed.advance(ALERT_LIMITS.answerWithinMs);
  await waitFor('it to happen', () => bed.recorded.length === 1);
  expect(bed.recorded[0]).toMatchObject({ outcome: 'failed', detail: 'no answer within 10 s' });
});

async function secured(): Promise<{ readonly key: string; readonly cert: string }> {
  const certificate = await makeCertificate();
  toClose.push({ close: async () => certificate.remove() });
  return { key: certificate.key, cert: certificate.cert };
}

const tellOver = (server: Server) =>
  new Mail(
    server,
    { from: 'c@plant.example', to: { all: ['a@plant.example'] } },
    { after: afterReal, limits: ALERT_LIMITS },
  ).test('p1', 'mail', 0, new AbortController().signal);

test('away from this computer no mail goes without TLS; with the plant’s own authority and a user it does', async () => {
  const tls = await secured();
  const open = await serverOf();
  const remote = { host: '127.0.0.1', tls: 'starttls' as const };
  expect(await tellOver({ ...remote, port: open.port })).toMatchObject({ ok: false });
  expect(open.mails).toEqual([]);
  const closed = await serverOf({ tls, user: { name: 'plant', password: 'right' } });
  const known = { host: 'localhost', tls: 'starttls' as const, port: closed.port, ca: tls.cert };
  expect(await tellOver({ ...known, user: 'plant', password: 'wrong' })).toMatchObject({
    ok: false,
    detail: expect.stringContaining('refused the user or the password') as unknown,
  });
  expect(await tellOver({ ...known, user: 'plant', password: 'right' })).toMatchObject({ ok: true });
  expect(closed.mails).toMatchObject([{ secure: true, user: 'plant' }]);
  const { ca: _ca, ...unknown } = known;
  expect(await tellOver({ ...unknown, user: 'plant', password: 'right' })).toMatchObject({ ok: false });
});

test('the address of a server: its port, its TLS, and what is wrong with it', () => {
  const folder = makeFolder('mail');
  const passwordFile = join(folder.path, 'password');
  writeFileSync(passwordFile, 'secret\n');
  expect(mailServer('smtp://mail.plant.example', {})).toMatchObject({ port: 587, tls: 'starttls' });
  expect(mailServer('smtps://mail.plant.example', {})).toMatchObject({ port: 465, tls: 'implicit' });
  expect(mailServer('smtp://127.0.0.1:25', {})).toMatchObject({ port: 25, tls: 'plain' });
  expect(mailServer('smtps://plant@mail.plant.example', { passwordFile })).toMatchObject({
    user: 'plant',
    password: 'secret',
  });
  expect(mailServer('http://mail', {})).toBe('expected smtp or smtps, got http:');
  expect(mailServer('mail', {})).toBe('"mail" is not an address');
  expect(mailServer('smtp://u:p@mail', {})).toContain('expected no password in the address');
  expect(mailServer('smtp://u@mail', {})).toContain('belong together');
  expect(mailServer('smtp://u@mail', { passwordFile: '/nowhere/at/all' })).toContain('ENOENT');
  folder.remove();
});
