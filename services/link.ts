// How devices reach the plant: the embedded broker, or an external one through the relay. The same admit on both.
import type { Logger } from 'pino';
import { rfc3339Of, type Clock } from '../shared/time.ts';
import { outTopic, PLANT_STATUS_TYPE } from '../shared/topics.ts';
import type { AccessStore } from './access/index.ts';
import { startBroker, type BrokerLimits, type Packet } from './broker/index.ts';
import type { Publication } from './holds/index.ts';
import type { PlantClient } from './plant/index.ts';
import { startRelay, type Relay } from './relay/index.ts';
import type { Settings } from './settings.ts';

export interface Link {
  /** Of the embedded broker. */
  readonly port: number | undefined;
  publish(publication: Publication): void;
  disconnect(device: string): void;
  /** Who is connected now; empty on an external broker, which does not say. */
  devices(): readonly string[];
  close(): Promise<void>;
}

export interface LinkParts {
  readonly settings: Settings;
  readonly access: Pick<AccessStore, 'checkDevice'>;
  readonly plant: PlantClient;
  readonly clock: Clock;
  readonly log: Logger;
}

export function openLink(parts: LinkParts): Promise<Link> {
  return parts.settings.broker === undefined ? embedded(parts) : external(parts, parts.settings.broker);
}

async function embedded({ settings, access, plant, clock, log }: LinkParts): Promise<Link> {
  const connected = new Set<string>();
  const decoder = new TextDecoder();
  const broker = await startBroker(
    { plant: settings.plant, host: settings.mqttHost, port: settings.mqttPort, limits: limitsOf(settings) },
    {
      admit: admitTo(plant, clock),
      authenticate: async (device, secret) => {
        const credential = await access.checkDevice(device, decoder.decode(secret));
        // Enrolled from the command line since the start: the plant has to know what it serves before its first message.
        if (credential !== undefined) {
          const { kind, serves } = credential;
          void plant.call('enrol', device, { kind, serves }).catch(() => undefined);
        }
        return credential;
      },
      connection: (device, isConnected) => {
        if (isConnected) connected.add(device);
        else connected.delete(device);
        void plant.call('connection', device, isConnected).catch(() => undefined);
      },
      refused: (what) => log.warn(what, 'turned away at the broker'),
    },
  );
  const publish = ({ topic, payload, retain }: Publication): void => broker.publish(topic, payload, { retain });
  publish(plantStatus(settings.plant, clock, { online: true }));
  return {
    port: broker.port,
    publish,
    disconnect: (device) => broker.disconnect(device),
    devices: () => [...connected],
    close: () => {
      publish(plantStatus(settings.plant, clock, STOPPED));
      return broker.close();
    },
  };
}

const STOPPED = { online: false, reason: 'stopped' } as const;
const LOST = { online: false, reason: 'lost' } as const;

/** Retained, so that a lamp or a control can tell "no hold" from "nobody there". */
function plantStatus(plant: string, clock: Clock, data: { online: boolean; reason?: string }): Publication {
  const time = rfc3339Of(clock.now());
  const envelope = {
    specversion: '1.0',
    id: `plant-${data.reason ?? 'online'}-${time}`,
    source: `/plant/${plant}/service`,
    type: PLANT_STATUS_TYPE,
    subject: `plant/${plant}`,
    time,
    datacontenttype: 'application/json',
    data,
  };
  return { topic: outTopic(plant, 'plant', plant, 'status'), payload: JSON.stringify(envelope), retain: true };
}

/** Those that a plant may set; all others are the broker's own. */
function limitsOf(settings: Settings): Partial<BrokerLimits> {
  const { connectionsMax, packetsPerSecondPerDevice, packetsBurstPerDevice } = settings;
  return {
    ...(connectionsMax === undefined ? {} : { connectionsMax }),
    ...(packetsPerSecondPerDevice === undefined ? {} : { packetsPerSecondPerDevice }),
    ...(packetsBurstPerDevice === undefined ? {} : { packetsBurstPerDevice }),
  };
}

async function external({ settings, plant, clock, log }: LinkParts, address: string): Promise<Link> {
  const url = new URL(address);
  const { username, password } = url;
  url.username = '';
  url.password = '';
  let relay: Relay | undefined = undefined;
  const publish = ({ topic, payload, retain }: Publication): void => relay?.publish(topic, payload, { retain });
  const online = (): void => publish(plantStatus(settings.plant, clock, { online: true }));
  const { topic, payload } = plantStatus(settings.plant, clock, LOST);
  relay = await startRelay(
    {
      url: url.href,
      plant: settings.plant,
      clientId: `counterpoise-${settings.plant}`,
      will: { topic, payload },
      ...(username === '' ? {} : { username: decodeURIComponent(username), password: decodeURIComponent(password) }),
      ...(settings.brokerShare === undefined ? {} : { share: settings.brokerShare }),
    },
    {
      admit: admitTo(plant, clock),
      connection: (isConnected) => {
        log.info({ broker: url.host, connected: isConnected }, 'external broker');
        // The broker has told our will when it lost us.
        if (isConnected) online();
      },
    },
  );
  online();
  return {
    port: undefined,
    publish,
    disconnect: () => undefined,
    devices: () => [],
    close: async () => {
      publish(plantStatus(settings.plant, clock, STOPPED));
      await relay?.close();
    },
  };
}

function admitTo(plant: PlantClient, clock: Clock) {
  return (packet: Packet, done: (failure?: Error) => void): void => {
    plant.admit(packet, clock.now(), done);
  };
}
