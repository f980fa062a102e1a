// What the relay is told, what it asks of the rest of the service, and its limits by name.

export interface RelaySettings {
  /** mqtt://host:1883 or mqtts://host:8883. */
  readonly url: string;
  readonly plant: string;
  /** The broker keeps our session under it; one service instance, one id. */
  readonly clientId: string;
  readonly username?: string;
  readonly password?: string;
  /** The group of a shared subscription, for several intakes on one broker. */
  readonly share?: string;
  /** 4 is MQTT 3.1.1 (the default), 5 is MQTT 5. */
  readonly protocolVersion?: 4 | 5;
  /** For mqtts: PEM of the authority that signed the broker's certificate, beside the usual ones. */
  readonly ca?: string | Uint8Array;
  /** Retained by the broker when this service is lost, so that devices see it. */
  readonly will?: { readonly topic: string; readonly payload: string };
  readonly inFlightMax?: number;
  readonly limits?: Partial<RelayLimits>;
}

export interface RelayLimits {
  /** Messages that are not durable yet. Beyond: the socket is not read. */
  readonly inFlightMax: number;
  /** The same in bytes. */
  readonly inFlightBytesMax: number;
  /**
   * A packet from the broker. Beyond: the connection is closed, and comes back to the same packet: the broker's own limit
   * (for mosquitto `max_packet_size`) has to be below this one.
   */
  readonly packetBytesMax: number;
  /** Messages of ours waiting for the broker; each retained topic counts once. Beyond: the oldest unretained is dropped. */
  readonly outboxMax: number;
  /** Messages of ours sent and not acknowledged by the broker. */
  readonly outFlightMax: number;
  readonly keepaliveSeconds: number;
  /** From the start of a connection to its subscription, and for an answer to a ping. Beyond: closed and tried again. */
  readonly answerTimeoutMs: number;
  /** Waiting time before the next try: doubled from the first to the last, with a random part. */
  readonly backOffFirstMs: number;
  readonly backOffLastMs: number;
  /** At the end: for what is in flight to become durable and be acknowledged. */
  readonly closeGraceMs: number;
}

export const RELAY_LIMITS: RelayLimits = {
  inFlightMax: 2_000,
  inFlightBytesMax: 32 * 1024 * 1024,
  packetBytesMax: 16 * 1024 * 1024,
  outboxMax: 10_000,
  outFlightMax: 100,
  keepaliveSeconds: 30,
  answerTimeoutMs: 10_000,
  backOffFirstMs: 250,
  backOffLastMs: 30_000,
  closeGraceMs: 2_000,
};

/** Has the shape of the embedded broker's packets, so that both may be admitted by the same hands. */
export interface RelayPacket {
  readonly topic: string;
  readonly payload: Uint8Array;
  /** As the topic names it. The broker's own access list is what binds a device to its name there. */
  readonly device: string;
  readonly connection: number;
  readonly packetId?: number;
  readonly dup: boolean;
  readonly qos: 0 | 1;
  readonly will: boolean;
}

export interface RelayPorts {
  /** As of the embedded broker: in order of arrival; `done` in that order too, once the packet is durable. */
  admit(packet: RelayPacket, done: (failure?: Error) => void): void;
  /** Connected means subscribed; otherwise `why` says what happened. */
  connection?(connected: boolean, why: string): void;
  /** For the log: what could not be taken, and why. */
  refused?(what: { readonly device?: string; readonly reason: string; readonly detail: string }): void;
}

export interface RelayStats {
  readonly connected: boolean;
  readonly inFlight: number;
  readonly inFlightBytes: number;
  readonly admitted: number;
  readonly durable: number;
  /** Messages of ours waiting for the broker or for its acknowledgement. */
  readonly outbox: number;
  /** Messages of ours dropped because the outbox was full. */
  readonly dropped: number;
  readonly connections: number;
}
