// A broker on a free port whose admissions a test answers when it likes.
import type { DeviceKind } from '../../../shared/ids.ts';
import {
  startBroker,
  type Broker,
  type BrokerLimits,
  type BrokerSettings,
  type Credential,
  type Packet,
  type Refusal,
} from '../../../services/broker/index.ts';

export const PLANT = 'p1';
export const SECRET = 'correct horse';

export interface Admitted extends Packet {
  readonly text: string;
  done(failure?: Error): void;
}

export interface Stand {
  readonly broker: Broker;
  readonly port: number;
  /** Everything admitted, in order. */
  readonly admitted: readonly Admitted[];
  readonly refusals: readonly Refusal[];
  readonly connections: readonly string[];
  readonly authentications: readonly string[];
  /** While false, `done` is left to the test. */
  durable: boolean;
  close(): Promise<void>;
}

export interface StandOptions {
  readonly limits?: Partial<BrokerLimits>;
  readonly tls?: NonNullable<BrokerSettings['tls']>;
  readonly kind?: DeviceKind;
  readonly serves?: readonly string[];
  readonly authenticate?: (device: string, secret: string) => Promise<Credential | undefined>;
}

export async function openStand(options: StandOptions = {}): Promise<Stand> {
  const admitted: Admitted[] = [];
  const refusals: Refusal[] = [];
  const connections: string[] = [];
  const authentications: string[] = [];
  const state = { durable: true };
  const { kind = 'bench', serves = [] } = options;
  const known = async (device: string, secret: string): Promise<Credential | undefined> =>
    secret === SECRET ? { device, kind, serves } : undefined;
  const broker = await startBroker(
    {
      plant: PLANT,
      host: '127.0.0.1',
      port: 0,
      ...(options.tls === undefined ? {} : { tls: options.tls }),
      limits: { closeGraceMs: 100, ...options.limits },
    },
    {
      admit: (packet, done) => {
        admitted.push({ ...packet, text: Buffer.from(packet.payload).toString(), done });
        if (state.durable) done();
      },
      authenticate: (device, secret) => {
        authentications.push(device);
        return (options.authenticate ?? known)(device, Buffer.from(secret).toString());
      },
      connection: (device, connected) => void connections.push(`${device} ${connected ? 'came' : 'went'}`),
      refused: (what) => void refusals.push(what),
    },
  );
  return {
    broker,
    port: broker.port,
    admitted,
    refusals,
    connections,
    authentications,
    get durable() {
      return state.durable;
    },
    set durable(value) {
      state.durable = value;
    },
    close: () => broker.close(),
  };
}

export function topicOf(device: string, channel = 'summary'): string {
  return `counterpoise/v1/${PLANT}/in/${device}/${channel}`;
}
