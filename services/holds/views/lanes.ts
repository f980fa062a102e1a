// The devices' lanes on the intake page: what came, what did not, how far a clock is off.
import { lowest } from '../../../shared/statistics/index.ts';
import type { DeviceLane } from '../../../shared/views.ts';
import type { DeviceState, Floor } from '../../rules/index.ts';
import { defined } from './defined.ts';

export interface LaneCounts {
  readonly connected: ReadonlySet<string>;
  readonly duplicates: ReadonlyMap<string, number>;
}

export function lanes(floor: Floor, { connected, duplicates }: LaneCounts): DeviceLane[] {
  return [...floor.devices.values()]
    .map((device) => lane(floor, device, connected.has(device.device), duplicates.get(device.device) ?? 0))
    .toSorted((a, b) => (a.device < b.device ? -1 : 1));
}

function lane(floor: Floor, device: DeviceState, connected: boolean, duplicates: number): DeviceLane {
  const { kind, lastAt, messages, rejected, late, sequenceGaps, clock, clockOdd } = device;
  const least = lowest(clock);
  return {
    device: device.device,
    connected,
    state: stateOf(floor, device, connected),
    messages,
    rejected,
    duplicates,
    late,
    sequenceGaps,
    ...defined({
      kind,
      lastAt,
      clockOffsetMs: least === undefined ? undefined : -least,
      clockNotBelieved: clockOdd ? (true as const) : undefined,
    }),
  };
}

/** A sensor's lane shows what its spindle shows; other devices are there or not. */
function stateOf(floor: Floor, { device, kind, serves }: DeviceState, connected: boolean): DeviceLane['state'] {
  if (kind === 'sensor') {
    const mine = serves.map((id) => floor.spindles.get(id)).find((spindle) => spindle?.live.sensor === device);
    if (mine !== undefined) return mine.state;
  }
  return connected ? 'reporting' : 'offline';
}
