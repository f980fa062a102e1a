// The embedded broker: sockets and protocol, with our own signing in, admission, reading and delivery between them.
import type { Client } from 'aedes';
import { Admission } from './admission.ts';
import { Budget } from './budget.ts';
import { protocolHooks } from './hooks.ts';
import type { Lane } from './lane.ts';
import { Lanes } from './lanes.ts';
import { Listener } from './listener.ts';
import type { Broker, BrokerPorts, BrokerStats } from './ports.ts';
import { Protocol } from './protocol.ts';
import { RefusalReports, type Refusal } from './refusals.ts';
import { BROKER_LIMITS, type BrokerLimits, type BrokerSettings } from './settings.ts';
import { SignIn } from './sign-in.ts';

export class EmbeddedBroker implements Broker {
  readonly #settings: BrokerSettings;
  readonly #limits: BrokerLimits;
  readonly #budget: Budget;
  readonly #admission: Admission;
  readonly #lanes: Lanes;
  readonly #protocol: Protocol;
  readonly #listener: Listener;
  readonly #laneOf = new WeakMap<Client, Lane>();
  readonly #reports: RefusalReports;
  #whenClosed: Promise<void> | undefined;

  constructor(settings: BrokerSettings, ports: BrokerPorts) {
    this.#settings = settings;
    this.#limits = { ...BROKER_LIMITS, ...settings.limits };
    this.#budget = new Budget(this.#limits);
    this.#reports = new RefusalReports(this.#limits.reportsPerSecond, (refusal) => ports.refused?.(refusal));
    const report = (refusal: Refusal): void => this.#reports.add(refusal, performance.now());
    this.#admission = new Admission({
      plant: settings.plant,
      budget: this.#budget,
      ports,
      refuse: (lane, reason, detail) => this.#lanes.refuse(lane, reason, detail),
      released: () => this.#lanes.released(),
    });
    this.#lanes = new Lanes(this.#limits, this.#budget, {
      connection: (device, connected) => ports.connection(device, connected),
      report,
      lost: (lane) => this.#admission.lastWill(lane),
    });
    this.#protocol = new Protocol(
      this.#limits,
      protocolHooks({
        plant: settings.plant,
        lanes: this.#lanes,
        admission: this.#admission,
        signIn: new SignIn(this.#limits, ports),
        laneOf: (client) => this.#knownLane(client),
        report,
      }),
    );
    this.#listener = new Listener(settings, this.#limits, {
      connected: (socket) => {
        const lane = this.#lanes.add(socket);
        this.#laneOf.set(this.#protocol.handle(socket), lane);
        // After the protocol's own listener, which comes first.
        socket.on('readable', () => lane.readOn());
      },
      turnedAway: (reason, detail) => report({ reason, detail }),
    });
  }

  async listen(): Promise<void> {
    await this.#protocol.open();
    this.#lanes.start();
    try {
      await this.#listener.listen(this.#settings.host, this.#settings.port);
    } catch (error) {
      this.#lanes.close();
      await this.#protocol.close();
      throw error;
    }
  }

  get port(): number {
    return this.#listener.port;
  }

  publish(topic: string, payload: string | Uint8Array, options: { readonly retain: boolean }): void {
    if (this.#whenClosed === undefined) this.#protocol.send(topic, Buffer.from(payload), options.retain);
  }

  disconnect(device: string): void {
    this.#lanes.disconnect(device);
  }

  stats(): BrokerStats {
    return {
      connections: this.#lanes.connections,
      devices: this.#lanes.devices,
      waiting: this.#lanes.waiting.size,
      outstanding: this.#admission.outstanding,
      reserved: this.#budget.packets,
      reservedBytes: this.#budget.bytes,
      admitted: this.#admission.admitted,
      durable: this.#admission.durable,
      stalledMs: this.#admission.stalledMs(performance.now()),
      refused: this.#reports.count,
      published: this.#protocol.published,
      retained: this.#protocol.retained,
    };
  }

  close(): Promise<void> {
    this.#whenClosed ??= this.#close();
    return this.#whenClosed;
  }

  async #close(): Promise<void> {
    this.#lanes.closing = true;
    this.#listener.stopAccepting();
    await this.#admission.settled(this.#limits.closeGraceMs);
    // Acknowledgements just given are written at the end of this turn of the loop.
    await new Promise((resolve) => setImmediate(resolve));
    this.#lanes.close();
    await Promise.all([this.#listener.close(), this.#protocol.close()]);
  }

  #knownLane(client: Client): Lane {
    const lane = this.#laneOf.get(client);
    if (lane === undefined) throw new Error('the protocol served a socket that was not given to it');
    return lane;
  }
}
