// What each invented device says of itself when it starts: the one birth message, for the past and the live run alike.
import type { Birth } from '../shared/messages/index.ts';
import { rfc3339Of, type Instant } from '../shared/time.ts';
import type { PlannedEvent } from './events.ts';
import type { Plant, PlantDevice } from './plant.ts';

const FIRMWARE = 'simulated 1.0 (invented)';

export function birthOf(plant: Plant, device: PlantDevice, intervalS: number): Birth {
  const serial = `${device.device.toUpperCase()}-0001`;
  const base = { kind: device.kind, serial, firmware: FIRMWARE };
  switch (device.kind) {
    case 'bench': {
      const bench = plant.benches.find((one) => one.device === device.device);
      return bench === undefined ? base : { ...base, calibratedUntil: rfc3339Of(bench.calibratedUntil) };
    }
    case 'machine':
    case 'reader':
      return { ...base, serves: [...device.serves] };
    case 'sensor':
      return {
        ...base,
        serves: [...device.serves],
        intervalS,
        channels: [
          { name: 'velocity', unit: 'mm/s', max: 50 },
          { name: 'acceleration', unit: 'm/s2', max: 160 },
        ],
      };
  }
}

/** Born and online, as it is told on every connection. */
export function startingEvents(plant: Plant, at: Instant, intervalS: number): PlannedEvent[] {
  return plant.devices.flatMap((device): PlannedEvent[] => [
    { channel: 'birth', time: at, device: device.device, data: birthOf(plant, device, intervalS) },
    { channel: 'state', time: at, device: device.device, data: { online: true, reason: 'connected' } },
  ]);
}
