// A device of the trials: sends its stream at QoS 1 with several in flight, and remembers each acknowledgement that it saw.
import { connect, type Socket } from 'node:net';
import * as mqtt from 'mqtt-packet';
import { LOOPBACK } from '../environment/loopback.ts';
import type { Stream, TrialMessage } from './trial-plant.ts';

const IN_FLIGHT_MAX = 16;
/** The beginning of a PUBLISH that says it is longer than what comes. */
const HALF_A_PACKET = Buffer.from([0x32, 0xff, 0x01, 0x00, 0x10, 0x63]);

export class TrialClient {
  readonly stream: Stream;
  readonly #secret: string;
  /** Keys of messages whose PUBACK was seen. */
  readonly acknowledged = new Set<string>();
  readonly #sentBefore = new Set<string>();
  readonly #onAcknowledged: () => void;
  #socket: Socket | undefined;

  constructor(stream: Stream, secret: string, onAcknowledged: () => void) {
    this.stream = stream;
    this.#secret = secret;
    this.#onAcknowledged = onAcknowledged;
  }

  get done(): boolean {
    return this.acknowledged.size === this.stream.messages.length;
  }

  /** The network goes, in the middle of whatever was being sent. */
  cut(): void {
    this.#socket?.write(HALF_A_PACKET);
    this.#socket?.destroy();
  }

  /** Until all is acknowledged, or the connection is gone. */
  run(port: number): Promise<'done' | 'cut'> {
    return new Promise((resolve) => {
      const socket = connect(port, LOOPBACK);
      this.#socket = socket;
      const run = new ClientRun(this.stream, this.#secret, socket, {
        waiting: this.stream.messages.filter(({ key }) => !this.acknowledged.has(key)),
        wasSent: (key) => this.#sentBefore.has(key),
        sent: (key) => this.#sentBefore.add(key),
        acknowledged: (key) => {
          this.acknowledged.add(key);
          this.#onAcknowledged();
        },
      });
      socket.on('error', () => undefined);
      socket.on('close', () => resolve(this.done ? 'done' : 'cut'));
      run.start();
    });
  }
}

interface ClientMemory {
  readonly waiting: readonly TrialMessage[];
  wasSent(key: string): boolean;
  sent(key: string): void;
  acknowledged(key: string): void;
}

class ClientRun {
  readonly #socket: Socket;
  readonly #device: string;
  readonly #secret: string;
  readonly #memory: ClientMemory;
  readonly #inFlight = new Map<number, string>();
  #next = 0;
  #packetId = 0;

  constructor({ device }: Stream, secret: string, socket: Socket, memory: ClientMemory) {
    this.#device = device;
    this.#secret = secret;
    this.#socket = socket;
    this.#memory = memory;
  }

  start(): void {
    const parser = mqtt.parser();
    parser.on('packet', (packet) => this.#take(packet));
    parser.on('error', () => this.#socket.destroy());
    this.#socket.on('data', (bytes) => parser.parse(bytes));
    this.#socket.on('connect', () => {
      this.#write({
        cmd: 'connect',
        protocolId: 'MQTT',
        protocolVersion: 4,
        clean: true,
        clientId: this.#device,
        keepalive: 60,
        username: this.#device,
        password: Buffer.from(this.#secret),
      });
    });
  }

  #take(packet: mqtt.Packet): void {
    if (packet.cmd === 'puback') {
      const key = this.#inFlight.get(packet.messageId ?? -1);
      if (key === undefined) return;
      this.#inFlight.delete(packet.messageId ?? -1);
      this.#memory.acknowledged(key);
    }
    if (packet.cmd === 'connack' && packet.returnCode !== 0) return void this.#socket.destroy();
    this.#send();
  }

  #send(): void {
    const { waiting } = this.#memory;
    while (this.#inFlight.size < IN_FLIGHT_MAX) {
      const message = waiting[this.#next];
      if (message === undefined) break;
      this.#next += 1;
      this.#packetId = (this.#packetId % 65_535) + 1;
      this.#inFlight.set(this.#packetId, message.key);
      const dup = this.#memory.wasSent(message.key);
      this.#memory.sent(message.key);
      const { topic, payload } = message;
      this.#write({ cmd: 'publish', topic, payload, qos: 1, dup, retain: false, messageId: this.#packetId });
    }
    if (this.#inFlight.size === 0 && this.#next === waiting.length) {
      this.#write({ cmd: 'disconnect' });
      this.#socket.end();
    }
  }

  #write(packet: mqtt.Packet): void {
    if (!this.#socket.destroyed) this.#socket.write(mqtt.generate(packet));
  }
}
