// A device that sends exactly the bytes a test wants, and shows every packet that comes back.
import { connect as connectPlain, type Socket } from 'node:net';
import { connect as connectTls } from 'node:tls';
import { generate, parser, type IConnectPacket, type Packet } from 'mqtt-packet';
import { waitFor } from '../../environment/wait-for.ts';
import { SECRET } from './stand.ts';

type Cmd = Packet['cmd'];

export interface RawDevice {
  readonly socket: Socket;
  readonly received: readonly Packet[];
  /** True once the other side has ended the connection. */
  readonly closed: boolean;
  send(bytes: Uint8Array): void;
  packet(packet: Packet): void;
  /** Publishes at QoS 1 with this packet id. */
  publish(topic: string, payload: string | Buffer, messageId: number, dup?: boolean): void;
  /** Resolves with the granted QoS of each; 128 means refused. */
  subscribe(...topics: string[]): Promise<readonly number[]>;
  /** The nth packet of this kind. */
  next<C extends Cmd>(cmd: C, nth?: number): Promise<Extract<Packet, { cmd: C }>>;
  all<C extends Cmd>(cmd: C): Extract<Packet, { cmd: C }>[];
  untilClosed(): Promise<void>;
  ping(): Promise<void>;
  end(): void;
}

export interface RawDeviceOptions {
  readonly port: number;
  readonly tlsCa?: string;
}

/** Opens the socket and sends nothing. */
export async function openSocket(options: RawDeviceOptions): Promise<RawDevice> {
  const { port } = options;
  const socket =
    options.tlsCa === undefined
      ? connectPlain({ port, host: '127.0.0.1', noDelay: true })
      : connectTls({ port, host: '127.0.0.1', ca: options.tlsCa, servername: 'localhost' });
  const received: Packet[] = [];
  const state = { closed: false };
  const parse = parser({ protocolVersion: 4 });
  parse.on('packet', (packet) => received.push(packet));
  socket.on('data', (bytes: Buffer) => parse.parse(bytes));
  socket.on('error', () => undefined);
  socket.on('close', () => (state.closed = true));
  await new Promise((resolve, reject) => {
    socket.once(options.tlsCa === undefined ? 'connect' : 'secureConnect', resolve);
    socket.once('error', reject);
  });
  return deviceOn(socket, received, state);
}

function deviceOn(socket: Socket, received: Packet[], state: { closed: boolean }): RawDevice {
  const all = <C extends Cmd>(cmd: C): Extract<Packet, { cmd: C }>[] =>
    received.filter((packet): packet is Extract<Packet, { cmd: C }> => packet.cmd === cmd);
  const next = <C extends Cmd>(cmd: C, nth = 1): Promise<Extract<Packet, { cmd: C }>> =>
    waitFor(`${cmd} number ${nth}`, () => {
      const found = all(cmd)[nth - 1];
      if (found === undefined && state.closed) throw new Error(`closed before ${cmd} number ${nth} came`);
      return found;
    });
  const packet = (one: Packet): void => void socket.write(generate(one));
  let subscriptions = 0;
  return {
    socket,
    received,
    get closed() {
      return state.closed;
    },
    send: (bytes) => void socket.write(bytes),
    packet,
    publish: (topic, payload, messageId, dup = false) =>
      packet({ cmd: 'publish', topic, payload, messageId, qos: 1, dup, retain: false }),
    subscribe: async (...topics) => {
      const nth = ++subscriptions;
      packet({ cmd: 'subscribe', messageId: nth, subscriptions: topics.map((topic) => ({ topic, qos: 1 as const })) });
      return (await next('suback', nth)).granted as number[];
    },
    next,
    all,
    untilClosed: async () => void (await waitFor('the connection to be closed', () => state.closed)),
    ping: async () => {
      const nth = all('pingresp').length + 1;
      packet({ cmd: 'pingreq' });
      await next('pingresp', nth);
    },
    end: () => void socket.destroy(),
  };
}

export function connectPacket(device: string, more: Partial<IConnectPacket> = {}): IConnectPacket {
  return {
    cmd: 'connect',
    protocolId: 'MQTT',
    protocolVersion: 4,
    clean: true,
    clientId: device,
    keepalive: 30,
    username: device,
    password: Buffer.from(SECRET),
    ...more,
  };
}

/** Connects and returns the code of the answer. */
export async function tryToConnect(
  options: RawDeviceOptions,
  device: string,
  more: Partial<IConnectPacket> = {},
): Promise<{ readonly device: RawDevice; readonly code: number | undefined }> {
  const raw = await openSocket(options);
  raw.packet(connectPacket(device, more));
  return { device: raw, code: (await raw.next('connack')).returnCode };
}

export async function connectDevice(
  options: RawDeviceOptions,
  device: string,
  more: Partial<IConnectPacket> = {},
): Promise<RawDevice> {
  const { device: raw, code } = await tryToConnect(options, device, more);
  if (code !== 0) throw new Error(`${device} was refused with ${code}`);
  return raw;
}
