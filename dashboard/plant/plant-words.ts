// What is said of kinds of devices and of rights on the page Plant.
import type { DeviceKind } from '../../shared/ids.ts';
import { say } from '../../shared/language/index.ts';
import type { Role } from '../../shared/rights.ts';

interface Told {
  readonly word: string;
  readonly does: string;
  readonly example: string;
}

export const KIND_TOLD: Readonly<Record<DeviceKind, Told>> = {
  sensor: { word: say`Sensor`, does: say`A sensor sits on one spindle and sends its vibration.`, example: 'sensor-7' },
  machine: {
    word: say`Machine`,
    does: say`A machine control says what is loaded in its spindles and how fast they turn, and may ask the gate.`,
    example: 'machine-3',
  },
  bench: { word: say`Bench`, does: say`A balancing bench sends its results, by itself.`, example: 'bench-1' },
  reader: {
    word: say`Reader`,
    does: say`A reader, such as a lamp or a board, listens to what is put on hold.`,
    example: 'lamp-1',
  },
};

export const ROLE_DOES: Readonly<Record<Role, string>> = {
  viewer: say`looks`,
  operator: say`also asks at the gate`,
  'tool-room': say`takes and checks holds, records corrections`,
  maintenance: say`releases holds of spindles`,
  engineer: say`declares spindles, limits and rules; deviates and voids`,
  admin: say`devices and people`,
};
