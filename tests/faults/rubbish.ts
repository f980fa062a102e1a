// A device gone mad: everything that must be refused or rejected, sent on real sockets while the others work on.
import { connect } from 'node:net';
import * as mqtt from 'mqtt-packet';
import { inTopic } from '../../shared/topics.ts';
import { LOOPBACK } from '../environment/loopback.ts';
import { TRIAL_PLANT } from './trial-plant.ts';

export const RUBBISH_DEVICE = 'bench-mad';

/** Payloads that are kept as rejected, each with a receipt; the connection stays. */
export const REJECTED_PAYLOADS: readonly string[] = [
  '',
  'not JSON',
  '[]',
  '{"specversion":"1.0"}',
  '{"massKg":-1}',
  '{"massKg":1e999}',
  `${'['.repeat(10_000)}${']'.repeat(10_000)}`,
  '{"specversion":"1.0","id":"x","source":"s","type":"counterpoise.assembly.build.v9","data":{}}',
];

/** Sends them all; resolves with how many were acknowledged. */
export function sendRubbish(port: number, secret: string): Promise<number> {
  return new Promise((resolve) => {
    const socket = connect(port, LOOPBACK);
    const parser = mqtt.parser();
    let acknowledged = 0;
    const write = (packet: mqtt.Packet): void => void socket.write(mqtt.generate(packet));
    parser.on('packet', (packet) => {
      if (packet.cmd === 'connack') {
        REJECTED_PAYLOADS.forEach((payload, index) => {
          const topic = inTopic(TRIAL_PLANT, RUBBISH_DEVICE, 'build');
          write({ cmd: 'publish', topic, payload, qos: 1, dup: false, retain: false, messageId: index + 1 });
        });
      }
      if (packet.cmd !== 'puback') return;
      acknowledged += 1;
      if (acknowledged === REJECTED_PAYLOADS.length) endBadly(socket);
    });
    socket.on('data', (bytes) => parser.parse(bytes));
    socket.on('error', () => undefined);
    socket.on('close', () => resolve(acknowledged));
    socket.on('connect', () =>
      write({
        cmd: 'connect',
        protocolId: 'MQTT',
        protocolVersion: 4,
        clean: true,
        clientId: RUBBISH_DEVICE,
        keepalive: 30,
        username: RUBBISH_DEVICE,
        password: Buffer.from(secret),
      }),
    );
  });
}

/** Then what the broker answers by closing: another device's topic, behind it half a packet. */
function endBadly(socket: ReturnType<typeof connect>): void {
  const forged = mqtt.generate({
    cmd: 'publish',
    topic: inTopic(TRIAL_PLANT, 'bench-1', 'build'),
    payload: '{}',
    qos: 1,
    dup: false,
    retain: true,
    messageId: 999,
  });
  socket.write(Buffer.concat([forged, forged.subarray(0, 9)]));
}
