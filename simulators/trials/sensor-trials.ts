// Trials of sensors that say nothing, or what cannot be.
import { MILLISECONDS_A_MINUTE, MILLISECONDS_A_SECOND, type Instant } from '../../shared/time.ts';
import { birthOf } from '../devices.ts';
import type { PlannedEvent } from '../events.ts';
import type { Fault } from '../faults.ts';
import { runsFrom, runsUntil, type LoadPlan } from '../shift.ts';
import type { SimulatedSpindle } from '../spindles.ts';
import type { PlantedTrial } from './kinds.ts';
import type { Scenario } from './scenario.ts';
import { hoursIn, loadsOf, minutes, onlyFaults, type Stage } from './stage.ts';

export type SensorTrial = Extract<PlantedTrial, `sensor-${string}`>;

const ROTTEN_MIN = [240, 600] as const;
const AWAY_MIN = [20, 360] as const;
const NOISE_MMS = [1.5, 6] as const;
/** A broker notices a lost connection after one and a half of its keepalives. */
const NOTICED_MS = 45 * MILLISECONDS_A_SECOND;

export function sensorFault(stage: Stage, kind: SensorTrial): Scenario {
  const { plant, prng, until } = stage;
  const spindle = prng.pick(plant.spindles);
  const from = hoursIn(stage, 1, 12);
  const [shortest, longest] = kind === 'sensor-silent' || kind === 'sensor-offline' ? AWAY_MIN : ROTTEN_MIN;
  const fault: Fault = {
    kind,
    subject: { kind: 'spindle', id: spindle.declared.spindleId },
    from,
    to: Math.min(until - 15 * MILLISECONDS_A_MINUTE, from + minutes(prng, shortest, longest)),
    ...(kind === 'sensor-noisy' ? { size: prng.between(...NOISE_MMS) } : {}),
  };
  const events = kind === 'sensor-offline' ? lostAndBack(stage, spindle, fault) : [];
  return {
    plant,
    overlay: { ...onlyFaults(fault), events },
    labels: [{ ...fault, tellableFrom: tellableFrom(kind, from, loadsOf(stage, spindle)) }],
  };
}

/** Some show at standstill too; the others while the spindle turns. */
function tellableFrom(kind: SensorTrial, from: Instant, loads: readonly LoadPlan[]): Instant {
  switch (kind) {
    case 'sensor-silent':
    case 'sensor-offline':
    case 'sensor-flat':
    case 'sensor-noisy':
      return from;
    case 'sensor-clipped':
    case 'sensor-dead':
    case 'sensor-incoherent':
    case 'sensor-stuck': {
      const load = loads.find((one) => runsUntil(one) > from && !one.stands);
      return load === undefined ? from : Math.max(from, runsFrom(load));
    }
  }
}

/** Its will when the connection breaks, and birth and state when it is there again. */
function lostAndBack({ plant, intervalS }: Stage, { sensorDevice }: SimulatedSpindle, fault: Fault): PlannedEvent[] {
  const device = plant.devices.find((one) => one.device === sensorDevice);
  if (device === undefined) throw new Error('every spindle has a sensor');
  const told = { device: sensorDevice };
  return [
    { ...told, channel: 'state', time: fault.from + NOTICED_MS, data: { online: false, reason: 'lost' } },
    { ...told, channel: 'birth', time: fault.to, data: birthOf(plant, device, intervalS) },
    { ...told, channel: 'state', time: fault.to, data: { online: true, reason: 'connected' } },
  ];
}
