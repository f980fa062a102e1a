// Messages taken from the external broker that are not durable yet; acknowledges them in the order in which they came.
import type { RelayPacket, RelayPorts } from './ports.ts';

export class InFlight {
  packets = 0;
  bytes = 0;
  admitted = 0;
  durable = 0;
  readonly #ports: RelayPorts;
  #whenEmpty: (() => void) | undefined;

  constructor(ports: RelayPorts) {
    this.#ports = ports;
  }

  take(packet: RelayPacket, settled: (failure?: Error) => void): void {
    const bytes = packet.payload.length;
    this.packets += 1;
    this.bytes += bytes;
    this.admitted += 1;
    let isOpen = true;
    const done = (failure?: Error): void => {
      if (!isOpen) return;
      isOpen = false;
      this.packets -= 1;
      this.bytes -= bytes;
      if (failure === undefined) this.durable += 1;
      settled(failure);
      if (this.packets === 0) this.#whenEmpty?.();
    };
    try {
      this.#ports.admit(packet, done);
    } catch (error) {
      done(error instanceof Error ? error : new Error(String(error)));
    }
  }

  /** Resolves when nothing is in flight, or when the time is up. */
  async empty(withinMs: number): Promise<void> {
    if (this.packets === 0) return;
    await new Promise<void>((resolve) => {
      const impatience = setTimeout(resolve, withinMs);
      this.#whenEmpty = () => {
        clearTimeout(impatience);
        resolve();
      };
    });
  }
}
