// Takes devices' messages from a broker that the plant already has, and acknowledges each only when it is durable.
import type { RelayPorts, RelaySettings } from './ports.ts';
import { Relay } from './relay.ts';

export { RELAY_LIMITS } from './ports.ts';
export type { RelayPacket, RelayPorts, RelaySettings, RelayStats } from './ports.ts';
export type { Relay } from './relay.ts';

/**
 * Resolves once the first try to connect has come to its end, with or without success; it goes on trying for as long as it
 * runs, and `connection` tells of each change. Rejects only when the settings cannot be right (an address that is none).
 *
 * That the external broker has acknowledged a device's message is its own promise, not ours: it may lose the message
 * when it crashes. Devices on it keep each message until its receipt has come. The broker must hold for this client id
 * what it cannot deliver at once: for mosquitto, `max_queued_messages 0` and `max_inflight_messages` as `inFlightMax`.
 */
export async function startRelay(settings: RelaySettings, ports: RelayPorts): Promise<Relay> {
  const relay = new Relay(settings, ports);
  await relay.start();
  return relay;
}
