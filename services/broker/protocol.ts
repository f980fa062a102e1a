// aedes, reduced to the protocol: handshakes, parsing and acknowledging. What is decided, is decided by the hooks.
import type { Socket } from 'node:net';
import { Aedes, type AedesPublishPacket, type Client, type ConnectPacket, type PublishPacket } from 'aedes';
import mqttPacket from 'mqtt-packet';
import { FanOut, Retained } from './fan-out.ts';
import type { BrokerLimits } from './settings.ts';
import type { ReturnCode } from './sign-in.ts';

export interface ProtocolHooks {
  /** Before anything is answered; may change the packet. */
  connect(client: Client, packet: ConnectPacket): void;
  signIn(client: Client, name: string | undefined, secret: Uint8Array | undefined): Promise<'accepted' | ReturnCode>;
  ready(client: Client): void;
  /** The acknowledgement is sent when `durable` is called. */
  publish(client: Client, packet: PublishPacket, durable: () => void): void;
  maySubscribe(client: Client, filter: string): boolean;
  mayForward(client: Client): boolean;
  failed(client: Client, error: Error): void;
}

/** Ids of MQTT 3.1 were shorter than ours may be. */
const CLIENT_ID_CHARACTERS_MAX = 40;
/** Ours have seven; admission is exact about them. */
const TOPIC_LEVELS_MAX = 10;

const NOTHING = Buffer.alloc(0);

// A buffer for each of the 65,536 numbers, made beforehand, would spare little here: acknowledgements are not written by it.
mqttPacket.writeToStream.cacheNumbers = false;

/** What devices publish ends with its admission: aedes passes nothing on, retains nothing, and speaks of itself to nobody. */
class AdmittingAedes extends Aedes {
  override publish(_packet: unknown, client: Client | null | (() => void), done?: () => void): void {
    if (done !== undefined) done();
    else if (typeof client === 'function') client();
  }
}

export class Protocol {
  readonly #fanOut = new FanOut();
  readonly #retained = new Retained();
  readonly #aedes: Aedes;
  #published = 0;

  constructor(limits: BrokerLimits, hooks: ProtocolHooks) {
    this.#aedes = new AdmittingAedes({
      mq: this.#fanOut,
      persistence: this.#retained,
      concurrency: 0,
      // A backstop: ours comes first and says why.
      connectTimeout: 2 * limits.connectTimeoutMs,
      drainTimeout: limits.drainTimeoutMs,
      maxClientsIdLength: CLIENT_ID_CHARACTERS_MAX,
      maxTopicLevels: TOPIC_LEVELS_MAX,
      preConnect: (client, packet, done) => {
        hooks.connect(client, packet);
        done(null, true);
      },
      authenticate: (client, name, secret, done) => {
        const answer = (code: 'accepted' | ReturnCode): void => {
          if (code === 'accepted') done(null, true);
          else done(Object.assign(new Error('refused'), { returnCode: code }) as Parameters<typeof done>[0], false);
        };
        hooks.signIn(client, name, secret).then(answer, () => answer(3));
      },
      authorizePublish: (client, packet, done) => {
        if (client === null) return;
        hooks.publish(client, packet, done);
        // It is kept for its acknowledgement only: its bytes need not wait for that in memory.
        packet.payload = NOTHING;
      },
      // Without a subscription the answer is 0x80: refused, and the connection goes on.
      authorizeSubscribe: (client, subscription, done) =>
        done(null, hooks.maySubscribe(client, subscription.topic) ? subscription : null),
      authorizeForward: (client, packet) => (hooks.mayForward(client) ? packet : null),
    });
    this.#aedes.on('clientReady', (client) => hooks.ready(client));
    this.#aedes.on('clientError', (client, error) => hooks.failed(client, error));
    this.#aedes.on('connectionError', (client, error) => hooks.failed(client, error));
  }

  get published(): number {
    return this.#published;
  }

  get retained(): number {
    return this.#retained.size;
  }

  open(): Promise<void> {
    return this.#aedes.listen();
  }

  handle(socket: Socket): Client {
    return this.#aedes.handle(socket);
  }

  /** Hands a message of ours to its subscribers, in the order of the calls. */
  send(topic: string, payload: Buffer, retain: boolean): void {
    const packet: AedesPublishPacket = {
      cmd: 'publish',
      brokerId: this.#aedes.id,
      brokerCounter: ++this.#published,
      topic,
      payload,
      qos: 1,
      retain,
      dup: false,
    };
    if (retain) this.#retained.keep(packet);
    this.#fanOut.emit(packet);
  }

  close(): Promise<void> {
    return new Promise((resolve) => this.#aedes.close(() => resolve()));
  }
}
