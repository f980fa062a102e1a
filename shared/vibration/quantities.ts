// Acceleration, velocity and displacement of one vibration, and their levels in decibels.

export const VIBRATION_QUANTITIES = ['acceleration', 'velocity', 'displacement'] as const;
/** In m/s², mm/s and µm. */
export type VibrationQuantity = (typeof VIBRATION_QUANTITIES)[number];

/**
 * What a sine's acceleration in m/s² is multiplied by to be the quantity, at a frequency: a = ω·v = ω²·x (mechanics). At 0 Hz
 * velocity and displacement are not defined by the acceleration: 0.
 */
export function factorFromAcceleration(quantity: VibrationQuantity, frequencyHz: number): number {
  const omega = 2 * Math.PI * frequencyHz;
  switch (quantity) {
    case 'acceleration':
      return 1;
    case 'velocity':
      return omega > 0 ? 1e3 / omega : 0;
    case 'displacement':
      return omega > 0 ? 1e6 / (omega * omega) : 0;
  }
}

/** Reference values of ISO 1683 in the units used here: 1 µm/s², 1 nm/s, 1 pm (from memory). */
export const DECIBEL_REFERENCES: Readonly<Record<VibrationQuantity, number>> = {
  acceleration: 1e-6,
  velocity: 1e-6,
  displacement: 1e-6,
};

/** Level of a field quantity: 20·log₁₀(value / reference), both in one unit; −∞ at 0 (ISO 1683). */
export function decibels(value: number, reference: number): number {
  return 20 * Math.log10(value / reference);
}
