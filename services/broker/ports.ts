// What the broker asks of the rest of the service, and what it offers to it.
import type { DeviceKind } from '../../shared/ids.ts';
import type { Refusal } from './refusals.ts';

/** A message of a device, as it came: only its topic has been looked at. */
export interface Packet {
  readonly topic: string;
  readonly payload: Uint8Array;
  readonly device: string;
  /** Numbers the connections since the start: a packet id means something within one of them only. */
  readonly connection: number;
  /** Absent at QoS 0 and for a will. */
  readonly packetId?: number;
  readonly dup: boolean;
  readonly qos: 0 | 1;
  readonly will: boolean;
}

export interface Credential {
  readonly device: string;
  readonly kind: DeviceKind;
  /** The subjects (spindles, assemblies, benches) it is bound to; `*` stands for all. */
  readonly serves: readonly string[];
}

export interface BrokerPorts {
  /**
   * Called in order of arrival, for wills too. `done` is called once the packet is durable, in that same order:
   * acknowledgements leave in the order of these calls. It may be called at once, later, or never; more than once counts
   * once. With a failure the connection is closed without acknowledgement, so that the device sends again: for a store
   * that failed, never for bad data, which is stored as rejected and acknowledged like any other.
   */
  admit(packet: Packet, done: (failure?: Error) => void): void;
  /** Undefined: no such device, or not its secret. A rejected promise refuses the device too, as a fault of ours. */
  authenticate(device: string, secret: Uint8Array): Promise<Credential | undefined>;
  /** A device has come, or has gone and no other connection has taken its place. */
  connection(device: string, connected: boolean): void;
  /** For the log and the metrics: whatever was turned away. */
  refused?(what: Refusal): void;
}

export interface BrokerStats {
  /** Open sockets, signed in or not. */
  readonly connections: number;
  /** Devices signed in. */
  readonly devices: number;
  /** Connections that are not read at the moment, because a limit was reached. */
  readonly waiting: number;
  /** Messages admitted that are not durable yet. */
  readonly outstanding: number;
  /** These and those that are still coming in, counted against the limits, with their bytes. */
  readonly reserved: number;
  readonly reservedBytes: number;
  readonly admitted: number;
  readonly durable: number;
  /** For how long messages have been outstanding without any of them becoming durable. */
  readonly stalledMs: number;
  readonly refused: number;
  readonly published: number;
  readonly retained: number;
}

export interface Broker {
  readonly port: number;
  /**
   * At QoS 1 to those who have subscribed and are connected now; with `retain` also to those who subscribe later, until
   * an empty payload clears it. Messages reach a subscriber in the order of the calls.
   */
  publish(topic: string, payload: string | Uint8Array, options: { readonly retain: boolean }): void;
  /** Ends the device's connection, as after its credential was withdrawn. It may try to come back. */
  disconnect(device: string): void;
  stats(): BrokerStats;
  /** Reads no more, lets what was read become durable for a short while, then closes everything. No wills are sent. */
  close(): Promise<void>;
}
