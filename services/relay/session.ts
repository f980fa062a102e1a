// One connection to the external broker, from CONNECT to its end; knows the protocol and nothing of the service.
import { connect as connectPlain, type Socket } from 'node:net';
import { connect as connectTls } from 'node:tls';
import {
  generate,
  parser,
  type IConnackPacket,
  type IConnectPacket,
  type IPublishPacket,
  type ISubackPacket,
  type Packet,
} from 'mqtt-packet';
import type { RelayLimits, RelaySettings } from './ports.ts';

export interface SessionPorts {
  /** Signed in and subscribed. */
  ready(): void;
  publish(packet: IPublishPacket): void;
  acknowledged(messageId: number): void;
  /** Called once, whatever happened. */
  ended(why: string): void;
}

export interface SessionOptions {
  readonly settings: RelaySettings;
  readonly limits: RelayLimits;
  readonly filter: string;
  /** Subscribe even where the broker says that it kept our session. */
  readonly subscribeAnyway: boolean;
}

const SUBSCRIBE_ID = 1;
const REFUSED_FROM = 0x80;
const SESSION_KEPT_SECONDS = 7 * 24 * 3600;
const PINGS_PER_KEEPALIVE = 2;

export class Session {
  readonly #options: SessionOptions;
  readonly #ports: SessionPorts;
  readonly #version: 4 | 5;
  readonly #socket: Socket;
  readonly #answerTimer: NodeJS.Timeout;
  #pingTimer: NodeJS.Timeout | undefined;
  #pingAnswered = true;
  #isReady = false;
  #isEnded = false;
  #isCorked = false;

  constructor(options: SessionOptions, ports: SessionPorts) {
    this.#options = options;
    this.#ports = ports;
    this.#version = options.settings.protocolVersion ?? 4;
    const parse = parser({ protocolVersion: this.#version });
    parse.on('packet', (packet) => this.#received(packet));
    parse.on('error', (error: unknown) => this.end(`what came is not MQTT: ${String(error)}`));
    this.#answerTimer = setTimeout(() => this.end('the broker did not answer'), options.limits.answerTimeoutMs);
    this.#socket = open(options.settings, () => this.#write(this.#connectPacket()));
    this.#socket.on('data', (bytes: Buffer) => {
      this.#pingAnswered = true;
      if (this.#isEnded) return;
      if (parse.parse(bytes) > options.limits.packetBytesMax) this.end('a packet is larger than packetBytesMax');
    });
    this.#socket.on('error', (error) => this.end(error.message));
    this.#socket.on('close', () => this.end('the broker closed the connection'));
  }

  get isReady(): boolean {
    return this.#isReady && !this.#isEnded;
  }

  acknowledge(messageId: number): void {
    if (this.#isEnded) return;
    // What becomes durable together is acknowledged in one write.
    if (!this.#isCorked) {
      this.#isCorked = true;
      this.#socket.cork();
      process.nextTick(() => {
        this.#isCorked = false;
        this.#socket.uncork();
      });
    }
    this.#write({ cmd: 'puback', messageId });
  }

  send(packet: IPublishPacket): void {
    this.#write(packet);
  }

  /** Not reading is what slows the broker down. */
  pause(): void {
    this.#socket.pause();
  }

  resume(): void {
    this.#pingAnswered = true;
    this.#socket.resume();
  }

  /** Says goodbye, so that the will is void; the broker keeps the session. */
  goodbye(): void {
    if (this.#isEnded) return;
    this.#isEnded = true;
    this.#stopTimers();
    this.#socket.end(generate({ cmd: 'disconnect' }, { protocolVersion: this.#version }), () => this.#socket.destroy());
  }

  end(why: string): void {
    if (this.#isEnded) return;
    this.#isEnded = true;
    this.#stopTimers();
    this.#socket.destroy();
    this.#ports.ended(why);
  }

  #received(packet: Packet): void {
    if (this.#isEnded) return;
    switch (packet.cmd) {
      case 'connack':
        return this.#connected(packet);
      case 'suback':
        return this.#subscribed(packet);
      case 'publish':
        return this.#ports.publish(packet);
      case 'puback':
        return this.#ports.acknowledged(packet.messageId ?? 0);
      case 'disconnect':
        return this.end(`the broker said goodbye with reason ${packet.reasonCode ?? 0}`);
      case 'pingresp':
      case 'auth':
      case 'connect':
      case 'pingreq':
      case 'pubcomp':
      case 'pubrec':
      case 'pubrel':
      case 'subscribe':
      case 'unsuback':
      case 'unsubscribe':
        return undefined;
    }
  }

  #connected(packet: IConnackPacket): void {
    const code = packet.returnCode ?? packet.reasonCode ?? 0;
    if (code !== 0) return this.end(`the broker refused the connection with code ${code}`);
    // Subscribing again would bring every retained birth and state again.
    if (packet.sessionPresent && !this.#options.subscribeAnyway) return this.#becomeReady();
    const topic = this.#options.filter;
    const subscription =
      this.#version === 5 ? { topic, qos: 1 as const, nl: false, rap: true, rh: 1 } : { topic, qos: 1 as const };
    this.#write({ cmd: 'subscribe', messageId: SUBSCRIBE_ID, subscriptions: [subscription] });
  }

  #subscribed(packet: ISubackPacket): void {
    const [granted] = packet.granted;
    if (typeof granted !== 'number' || granted >= REFUSED_FROM) {
      return this.end(`the broker refused the subscription to ${this.#options.filter}`);
    }
    this.#becomeReady();
  }

  #becomeReady(): void {
    clearTimeout(this.#answerTimer);
    this.#isReady = true;
    const everyMs = (this.#options.limits.keepaliveSeconds * 1000) / PINGS_PER_KEEPALIVE;
    this.#pingTimer = setInterval(() => this.#ping(), everyMs);
    this.#ports.ready();
  }

  /** Any byte counts as an answer; while we do not read, there can be none. */
  #ping(): void {
    if (!this.#pingAnswered && !this.#socket.isPaused()) return this.end('the broker does not answer pings');
    this.#pingAnswered = false;
    this.#write({ cmd: 'pingreq' });
  }

  #connectPacket(): IConnectPacket {
    const { settings, limits } = this.#options;
    return {
      cmd: 'connect',
      protocolId: 'MQTT',
      protocolVersion: this.#version,
      clientId: settings.clientId,
      // The broker keeps what comes while we are away.
      clean: false,
      keepalive: limits.keepaliveSeconds,
      ...(settings.username === undefined ? {} : { username: settings.username }),
      ...(settings.password === undefined ? {} : { password: Buffer.from(settings.password) }),
      ...(settings.will === undefined ? {} : { will: { ...settings.will, qos: 1, retain: true } }),
      ...(this.#version === 4
        ? {}
        : { properties: { sessionExpiryInterval: SESSION_KEPT_SECONDS, receiveMaximum: receiveMaximum(limits) } }),
    };
  }

  #write(packet: Packet): void {
    if (this.#socket.writable) this.#socket.write(generate(packet, { protocolVersion: this.#version }));
  }

  #stopTimers(): void {
    clearTimeout(this.#answerTimer);
    clearInterval(this.#pingTimer);
  }
}

function receiveMaximum(limits: RelayLimits): number {
  return Math.min(limits.inFlightMax, 0xffff);
}

function open(settings: RelaySettings, opened: () => void): Socket {
  const { protocol, hostname, port } = new URL(settings.url);
  const host = hostname.replace(/^\[|\]$/g, '');
  if (protocol === 'mqtt:') {
    return connectPlain({ host, port: port === '' ? 1883 : Number(port), noDelay: true }, opened);
  }
  const ca = settings.ca === undefined ? {} : { ca: Buffer.from(settings.ca) };
  return connectTls(
    { host, servername: host, port: port === '' ? 8883 : Number(port), minVersion: 'TLSv1.2', ...ca },
    opened,
  );
}
