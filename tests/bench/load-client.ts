// One raw socket that publishes at QoS 1 with a window, reads nothing but acknowledgements, and sends again what was not
// acknowledged when its connection is lost: the least that a device can do, so that the broker is what is measured.
import { connect, type Socket } from 'node:net';
import { generate } from 'mqtt-packet';

export interface LoadIdentity {
  readonly clientId: string;
  readonly username?: string;
  readonly password?: string;
  readonly topic: string;
}

/** The nth message of a client, n from 0; the same n must give the same bytes. */
export type MakePayload = (n: number) => Uint8Array;

/**
 * A payload of fixed length in which every run of tildes stands for the last so many digits of n, and `TIME_MARK` for the
 * time of sending: nothing is made or copied per message. Or a function, which is slower and may do anything.
 */
export type LoadPayload = string | MakePayload;

export interface LoadClientPorts {
  acknowledged(latencyMs: number): void;
  /** All acknowledgements that came together have been told: the window has room. */
  room(): void;
  /** The connection was lost; called again for each further try that fails. */
  lost(why: string): void;
}

/** As long as an RFC 3339 time in UTC with milliseconds. */
export const TIME_MARK = '@'.repeat(24);
const DIGITS_MIN = 2;
const PUBLISH_QOS_1 = 0x32;
const DUP = 0x08;
const PUBACK = 0x40;
const CONNACK = 0x20;
const PINGRESP = 0xd0;
const NOTHING = Buffer.alloc(0);

/** PUBLISH at QoS 1, by hand: header, topic, packet id, payload. */
function publishPacket(topic: string, packetId: number, payload: Uint8Array): Buffer {
  return generate({
    cmd: 'publish',
    topic,
    payload: Buffer.from(payload),
    qos: 1,
    dup: false,
    retain: false,
    messageId: packetId,
  });
}

/** A place in the packets of a template that is written anew for each message. */
interface Marked {
  readonly at: number;
  readonly length: number;
}

function marksOf(packet: Buffer, mark: RegExp): readonly Marked[] {
  return [...packet.toString('latin1').matchAll(mark)].map((found) => ({ at: found.index, length: found[0].length }));
}

const now = { ms: 0, text: Buffer.alloc(TIME_MARK.length) };

/** Made once per millisecond for all clients. */
function timeText(): Buffer {
  const ms = Date.now();
  if (ms !== now.ms) {
    now.ms = ms;
    now.text.write(new Date(ms).toISOString(), 'latin1');
  }
  return now.text;
}

export class LoadClient {
  /** Messages acknowledged: all n below this one. */
  acknowledged = 0;
  sent = 0;
  outOfOrder = 0;
  connections = 0;
  /** No message with this n or a later one is sent. */
  limit = Infinity;
  readonly #identity: LoadIdentity;
  readonly #window: number;
  readonly #ports: LoadClientPorts;
  readonly #make: MakePayload | undefined;
  readonly #slots: Buffer[] = [];
  readonly #digits: readonly Marked[] = [];
  readonly #times: readonly Marked[] = [];
  readonly #dueAtMs: Float64Array;
  #socket: Socket | undefined;
  #rest: Buffer = NOTHING;
  #isOpen = false;

  constructor(identity: LoadIdentity, window: number, payload: LoadPayload, ports: LoadClientPorts) {
    this.#identity = identity;
    this.#window = window;
    this.#ports = ports;
    this.#dueAtMs = new Float64Array(window);
    this.#make = typeof payload === 'string' ? undefined : payload;
    if (typeof payload !== 'string') return;
    for (let slot = 0; slot < window; slot++) {
      this.#slots.push(publishPacket(identity.topic, slot + 1, Buffer.from(payload)));
    }
    const [first] = this.#slots;
    if (first === undefined) return;
    this.#digits = marksOf(first, new RegExp(`~{${DIGITS_MIN},}`, 'g'));
    this.#times = marksOf(first, new RegExp(TIME_MARK, 'g'));
  }

  get isOpen(): boolean {
    return this.#isOpen;
  }

  /** How many more messages may be sent now. */
  get room(): number {
    if (!this.#isOpen) return 0;
    return Math.min(this.#window - (this.sent - this.acknowledged), this.limit - this.sent);
  }

  /** Resolves when signed in; rejects when refused or unreachable. */
  connect(host: string, port: number): Promise<void> {
    return new Promise((resolve, reject) => {
      const socket = connect({ host, port, noDelay: true });
      this.#socket = socket;
      this.#rest = NOTHING;
      const { clientId, username, password } = this.#identity;
      socket.on('connect', () =>
        socket.write(
          generate({
            cmd: 'connect',
            protocolId: 'MQTT',
            protocolVersion: 4,
            clean: true,
            keepalive: 0,
            clientId,
            ...(username === undefined ? {} : { username }),
            ...(password === undefined ? {} : { password: Buffer.from(password) }),
          }),
        ),
      );
      const opened = (code: number): void => {
        if (code !== 0) return reject(new Error(`${clientId} was refused with code ${code}`));
        this.#isOpen = true;
        this.connections += 1;
        this.#sendAgain();
        resolve();
      };
      socket.on('data', (bytes: Buffer) => this.#read(bytes, opened));
      let why = 'the broker closed the connection';
      socket.on('error', (error) => (why = error.message));
      socket.on('close', () => {
        reject(new Error(`${clientId}: ${why}`));
        if (this.#socket !== socket) return;
        this.#isOpen = false;
        this.#ports.lost(why);
      });
    });
  }

  /** Sends up to this many messages, as far as the window has room; returns how many. */
  send(count: number, dueAtMs: number): number {
    const number = Math.min(count, this.room);
    if (number <= 0) return 0;
    const socket = this.#socket;
    socket?.cork();
    for (let i = 0; i < number; i++) socket?.write(this.#fill(this.sent++, dueAtMs));
    socket?.uncork();
    return number;
  }

  close(): void {
    const socket = this.#socket;
    this.#socket = undefined;
    this.#isOpen = false;
    socket?.destroy();
  }

  #fill(n: number, dueAtMs: number): Buffer {
    const slot = n % this.#window;
    this.#dueAtMs[slot] = dueAtMs;
    if (this.#make !== undefined) {
      const made = publishPacket(this.#identity.topic, slot + 1, this.#make(n));
      this.#slots[slot] = made;
      return made;
    }
    const packet = this.#slots[slot];
    if (packet === undefined) throw new Error('a window has a slot for each message in it');
    packet[0] = PUBLISH_QOS_1;
    for (const digits of this.#digits) {
      let left = n;
      for (let at = digits.at + digits.length - 1; at >= digits.at; at--) {
        packet[at] = 0x30 + (left % 10);
        left = Math.trunc(left / 10);
      }
    }
    for (const { at } of this.#times) packet.set(timeText(), at);
    return packet;
  }

  #sendAgain(): void {
    for (let n = this.acknowledged; n < this.sent; n++) {
      const packet = this.#slots[n % this.#window];
      if (packet === undefined) throw new Error('what is in flight is in its slot');
      packet[0] = PUBLISH_QOS_1 | DUP;
      this.#socket?.write(packet);
    }
  }

  #read(bytes: Buffer, opened: (code: number) => void): void {
    const all = this.#rest.length === 0 ? bytes : Buffer.concat([this.#rest, bytes]);
    const nowMs = performance.now();
    let at = 0;
    while (at < all.length) {
      const type = all[at];
      const length = type === PINGRESP ? 2 : 4;
      if (at + length > all.length) break;
      if (type === PUBACK) this.#takeAcknowledgement(all.readUInt16BE(at + 2), nowMs);
      else if (type === CONNACK) opened(all[at + 3] ?? 0xff);
      else if (type !== PINGRESP) throw new Error(`a packet that was not asked for: ${String(type)}`);
      at += length;
    }
    this.#rest = at === all.length ? NOTHING : Buffer.from(all.subarray(at));
    if (this.#isOpen) this.#ports.room();
  }

  #takeAcknowledgement(packetId: number, nowMs: number): void {
    const slot = this.acknowledged % this.#window;
    if (packetId !== slot + 1) {
      this.outOfOrder += 1;
      return;
    }
    this.acknowledged += 1;
    this.#ports.acknowledged(nowMs - (this.#dueAtMs[slot] ?? nowMs));
  }
}
