// Where devices connect: an MQTT 3.1.1 broker that acknowledges a message only once whoever admits it says it is durable.
import { EmbeddedBroker } from './broker.ts';
import type { Broker, BrokerPorts } from './ports.ts';
import type { BrokerSettings } from './settings.ts';

export type { Broker, BrokerPorts, BrokerStats, Credential, Packet } from './ports.ts';
export type { Refusal, RefusalReason } from './refusals.ts';
export { BROKER_LIMITS, type BrokerLimits, type BrokerSettings } from './settings.ts';

/** Resolves when it listens; rejects when it cannot (a port that is taken, a certificate that cannot be read). */
export async function startBroker(settings: BrokerSettings, ports: BrokerPorts): Promise<Broker> {
  const broker = new EmbeddedBroker(settings, ports);
  await broker.listen();
  return broker;
}
