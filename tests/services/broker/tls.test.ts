// The same broker behind TLS: devices on the network, not on loopback.
import { connect } from 'node:tls';
import { afterAll, afterEach, beforeAll, expect, test } from 'vitest';
import { startBroker } from '../../../services/broker/index.ts';
import { makeCertificate, type Certificate } from '../../environment/certificate.ts';
import { waitFor } from '../../environment/wait-for.ts';
import { connectDevice, openSocket } from './raw-device.ts';
import { openStand, topicOf, type Stand } from './stand.ts';

let certificate: Certificate;
let stand: Stand | undefined;
beforeAll(async () => {
  certificate = await makeCertificate();
});
afterAll(() => certificate.remove());
afterEach(() => stand?.close());

test('a device behind TLS publishes, is acknowledged and hears', async () => {
  stand = await openStand({ tls: certificate });
  stand.durable = false;
  const device = await connectDevice({ port: stand.port, tlsCa: certificate.cert }, 'bench-1');
  for (let id = 1; id <= 300; id++) device.publish(topicOf('bench-1'), 'x'.repeat(1_000), id);
  let settled = 0;
  await waitFor('all messages', () => {
    for (const packet of stand?.admitted.slice(settled) ?? []) packet.done();
    settled = stand?.admitted.length ?? 0;
    return settled === 300;
  });
  await device.next('puback', 300);
  await device.subscribe('counterpoise/v1/p1/back/bench-1/#');
  stand.broker.publish('counterpoise/v1/p1/back/bench-1/ask', 'over TLS', { retain: false });
  expect((await device.next('publish')).payload.toString()).toBe('over TLS');
});

test('plain bytes, old versions and handshakes that stop are turned away', async () => {
  stand = await openStand({ tls: certificate, limits: { connectTimeoutMs: 300 } });
  const { port } = stand;
  const plain = await openSocket({ port });
  plain.send(Buffer.from('GET / HTTP/1.1\r\n\r\n'));
  const silent = await openSocket({ port });
  await Promise.all([plain.untilClosed(), silent.untilClosed()]);
  const old = connect({
    port,
    host: '127.0.0.1',
    ca: certificate.cert,
    servername: 'localhost',
    maxVersion: 'TLSv1.1',
    minVersion: 'TLSv1',
  });
  await new Promise((resolve) => old.once('error', resolve));
  await waitFor('the reports', () => (stand?.refusals.length ?? 0) >= 3);
  expect(new Set(stand.refusals.map(({ reason }) => reason))).toEqual(new Set(['connection-failed']));
});

test('a port that is taken and a certificate that is none reject the start', async () => {
  stand = await openStand();
  const ports = { admit: () => undefined, authenticate: async () => undefined, connection: () => undefined };
  const taken = { plant: 'p1', host: '127.0.0.1', port: stand.port };
  await expect(startBroker(taken, ports)).rejects.toThrow('EADDRINUSE');
  await expect(startBroker({ ...taken, port: 0, tls: { cert: 'none', key: 'none' } }, ports)).rejects.toThrow(
    /PEM|routines/i,
  );
});
