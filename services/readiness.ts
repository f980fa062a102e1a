// What /readyz says of the parts: whether anybody can be served, and what an operator has to see to.
import type { PartReady } from './gateway/index.ts';

export interface Standing {
  /** Started, and not stopping. */
  readonly isStaying: boolean;
  /** A commit waits for room on the disk. */
  readonly isFull: boolean;
  /** Of an external broker; undefined where there is none. */
  readonly brokerConnected: boolean | undefined;
}

/**
 * A full disk is not ready: nothing is stored or acknowledged. Without its external broker the service still is: people
 * need the holds on their screens then more than ever, and neither a restart nor another machine would bring the broker.
 */
export function readyParts({ isStaying, isFull, brokerConnected }: Standing): readonly PartReady[] {
  const service = isStaying
    ? { part: 'service', ready: true }
    : { part: 'service', ready: false, amiss: 'the service is starting or stopping' };
  const disk = isFull
    ? { part: 'disk', ready: false, amiss: 'the disk is full: nothing is stored or acknowledged until there is room' }
    : { part: 'disk', ready: true };
  const broker =
    brokerConnected === false
      ? {
          part: 'broker',
          ready: true,
          amiss: 'the external broker is not connected: no device is heard, and nobody is told over MQTT',
        }
      : { part: 'broker', ready: true };
  return [service, disk, broker];
}
