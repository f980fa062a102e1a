// How devices reach the plant: the embedded broker, or an external one through the relay. The same admit on both.
import type { Logger } from 'pino';
import type { Clock } from '../shared/time.ts';
import type { AccessStore } from './access/index.ts';
import { plantStatus, type PlantStatus } from './announcements.ts';
import { startBroker, type BrokerLimits, type BrokerSettings, type Packet } from './broker/index.ts';
import type { Publication } from './holds/index.ts';
import type { PlantClient } from './plant/index.ts';
import { startRelay, type Relay } from './relay/index.ts';
import type { Settings } from './settings.ts';
import type { Tls } from './https.ts';

export interface Link {
  /** Where devices connect; undefined on an external broker. */
  readonly url: string | undefined;
  publish(publication: Publication): void;
  disconnect(device: string): void;
  /** Who is connected now; empty on an external broker, which does not say. */
  devices(): readonly string[];
  /** Whether the external broker is there, as far as is known; undefined where there is none. */
  readonly brokerConnected: boolean | undefined;
  close(): Promise<void>;
}

export interface LinkParts {
  readonly settings: Settings;
  /** Devices speak without it. */
  readonly tls: Tls | undefined;
  readonly access: Pick<AccessStore, 'checkDevice' | 'devices'>;
  readonly plant: Pick<PlantClient, 'admit' | 'call'>;
  /** A bench has signed in: it will send results and wait for advice. */
  readonly benchCame: () => void;
  readonly clock: Clock;
  readonly log: Logger;
}

/** A credential that another process revoked is seen within this. */
const REVOKED_SEEN_MS = 5000;
/** The next look is soon enough. */
const noLook = (): void => undefined;

export function openLink(parts: LinkParts): Promise<Link> {
  return parts.settings.broker === undefined ? embedded(parts) : external(parts, parts.settings.broker);
}

async function embedded(parts: LinkParts): Promise<Link> {
  const { settings, access, plant, clock, log } = parts;
  const { plant: id, mqttHost } = settings;
  const connected = new Set<string>();
  const decoder = new TextDecoder();
  const broker = await startBroker(brokerSettings(parts), {
    admit: admitTo(parts),
    authenticate: async (device, secret) => {
      const credential = await access.checkDevice(device, decoder.decode(secret));
      if (credential?.kind === 'bench') parts.benchCame();
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
  });
  const publish = ({ topic, payload, retain }: Publication): void => broker.publish(topic, payload, { retain });
  const announce = (status: PlantStatus): void => publish(plantStatus(id, clock.now(), status));
  announce('online');
  // Revoked from the command line, in another process: a leaked secret must not live on in an open connection.
  const looking = setInterval(() => {
    void access.devices().then((devices) => {
      for (const { device, revokedAt } of devices) {
        if (revokedAt !== undefined && connected.has(device)) broker.disconnect(device);
      }
    }, noLook);
  }, REVOKED_SEEN_MS);
  return {
    url: `${parts.tls === undefined ? 'mqtt' : 'mqtts'}://${mqttHost}:${broker.port}`,
    publish,
    disconnect: (device) => broker.disconnect(device),
    devices: () => [...connected],
    brokerConnected: undefined,
    close: () => {
      clearInterval(looking);
      announce('stopped');
      return broker.close();
    },
  };
}

function brokerSettings({ settings, tls }: LinkParts): BrokerSettings {
  const { plant, mqttHost: host, mqttPort: port } = settings;
  return { plant, host, port, limits: limitsOf(settings), ...(tls === undefined ? {} : { tls }) };
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

async function external(parts: LinkParts, address: string): Promise<Link> {
  const { settings, clock, log, plant } = parts;
  const { plant: id, brokerShare: share } = settings;
  const url = new URL(address);
  const { username, password } = url;
  url.username = '';
  url.password = '';
  let relay: Relay | undefined = undefined;
  const publish = ({ topic, payload, retain }: Publication): void => relay?.publish(topic, payload, { retain });
  const announce = (status: PlantStatus): void => publish(plantStatus(id, clock.now(), status));
  // What is retained may be gone with the broker's memory: a lamp must not read "online" and miss a hold.
  const tellAnew = async (): Promise<void> => {
    for (const publication of await plant.call('allPublications')) publish(publication);
    announce('online');
  };
  const { topic, payload } = plantStatus(id, clock.now(), 'lost');
  relay = await startRelay(
    {
      url: url.href,
      plant: id,
      clientId: `counterpoise-${id}`,
      will: { topic, payload },
      ...(username === '' ? {} : { username: decodeURIComponent(username), password: decodeURIComponent(password) }),
      ...(share === undefined ? {} : { share }),
    },
    {
      admit: admitTo(parts),
      connection: (isConnected, why) => {
        if (isConnected) log.info({ broker: url.host }, 'connected to the external broker');
        else log.warn({ broker: url.host, why }, 'not connected to the external broker; trying again');
        // The broker has told our will when it lost us.
        if (isConnected) void tellAnew().catch(() => undefined);
      },
    },
  );
  announce('online');
  return {
    url: undefined,
    publish,
    disconnect: () => undefined,
    devices: () => [],
    get brokerConnected() {
      return relay?.stats().connected ?? false;
    },
    close: async () => {
      announce('stopped');
      await relay?.close();
    },
  };
}

function admitTo({ plant, clock }: LinkParts) {
  return (packet: Packet, done: (failure?: Error) => void): void => {
    plant.admit(packet, clock.now(), done);
  };
}
