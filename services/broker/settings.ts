// Every limit of the broker by name, its default, and what happens beyond it.

export interface BrokerLimits {
  /** A PUBLISH packet, header excluded. Beyond: the connection is closed before the packet is held in memory. */
  readonly packetBytesMax: number;
  /** Any other packet (CONNECT with its will, SUBSCRIBE, …). Beyond: closed. */
  readonly controlBytesMax: number;
  /** Open sockets. Beyond: closed at once. */
  readonly connectionsMax: number;
  /** Connections let in per second, all together. Beyond: they wait, at most `connectTimeoutMs`. */
  readonly connectsPerSecond: number;
  /** From the socket's opening to a complete CONNECT. Beyond: closed. */
  readonly connectTimeoutMs: number;
  /** From CONNECT to the answer, waiting for others included. Beyond: closed. */
  readonly authenticateTimeoutMs: number;
  /** Secrets checked at the same time, so that a rush of devices leaves threads to others. Beyond: they wait. */
  readonly authenticationsAtOnce: number;
  /** Wrong secrets per minute from one address for one device name. Beyond: refused unchecked for that minute. */
  readonly failuresPerDevicePerMinute: number;
  /** Wrong secrets per minute from one address. Beyond: all of that address are refused unchecked for that minute. */
  readonly failuresPerAddressPerMinute: number;
  /** Without a byte in the middle of a packet. Beyond: closed. */
  readonly stallTimeoutMs: number;
  /** From the first to the last byte of a packet. Beyond: closed. */
  readonly packetTimeoutMs: number;
  /** A shorter keepalive counts as this one. */
  readonly keepaliveMinSeconds: number;
  /** A longer keepalive, or none, counts as this one; closed after one and a half of it in silence. */
  readonly keepaliveMaxSeconds: number;
  /** Messages of one device that are not durable yet. Beyond: its socket is not read. */
  readonly packetsPerDevice: number;
  /** The same in bytes. */
  readonly bytesPerDevice: number;
  /** Messages of all devices that are not durable yet. Beyond: no socket is read. */
  readonly packetsOverall: number;
  /** The same in bytes. */
  readonly bytesOverall: number;
  /** Packets of one device per second, over time. Beyond: its socket is read more slowly; nothing is dropped. */
  readonly packetsPerSecondPerDevice: number;
  /** Packets that a device which was quiet may send at once, such as its spool after an outage. */
  readonly packetsBurstPerDevice: number;
  /** A subscriber that takes nothing. Beyond: closed; nobody else waits for it meanwhile. */
  readonly drainTimeoutMs: number;
  /** Bytes waiting for a subscriber that is too slow. Beyond: closed. */
  readonly unsentBytesMax: number;
  /** Refusals told to `refused`. Beyond: counted, and told as a number. */
  readonly reportsPerSecond: number;
  /** At the end: for messages already read to become durable and be acknowledged. Beyond: unacknowledged. */
  readonly closeGraceMs: number;
}

export const BROKER_LIMITS: BrokerLimits = {
  packetBytesMax: 384 * 1024,
  controlBytesMax: 64 * 1024,
  connectionsMax: 10_000,
  connectsPerSecond: 500,
  connectTimeoutMs: 5_000,
  authenticateTimeoutMs: 30_000,
  authenticationsAtOnce: 4,
  failuresPerDevicePerMinute: 10,
  failuresPerAddressPerMinute: 60,
  stallTimeoutMs: 5_000,
  packetTimeoutMs: 60_000,
  keepaliveMinSeconds: 5,
  keepaliveMaxSeconds: 900,
  packetsPerDevice: 256,
  bytesPerDevice: 4 * 1024 * 1024,
  packetsOverall: 20_000,
  bytesOverall: 64 * 1024 * 1024,
  packetsPerSecondPerDevice: 5_000,
  packetsBurstPerDevice: 10_000,
  drainTimeoutMs: 5_000,
  unsentBytesMax: 1024 * 1024,
  reportsPerSecond: 100,
  closeGraceMs: 2_000,
};

export interface BrokerSettings {
  readonly plant: string;
  readonly host: string;
  /** 0 takes a free one; `Broker.port` says which. */
  readonly port: number;
  /** PEM. TLS 1.2 or later. */
  readonly tls?: { readonly cert: string | Uint8Array; readonly key: string | Uint8Array };
  readonly limits?: Partial<BrokerLimits>;
}
