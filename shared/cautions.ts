// The cautions that go with every advice, on screen, on paper, on the command line and in what a bench is told.
// Common practice, no source, unless a line says so.
import { say } from './language/index.ts';

export const ADVISORY = say`Advisory only. It replaces no guard, interlock or maker’s monitoring. The lowest marked speed of any part and the machine maker’s limit always govern.`;
export const BALANCE_IS_NOT_STRENGTH = say`Balance does not raise the speed that a tool is made for.`;
export const CORRECTION_WEAKENS = say`Corrections that remove material weaken parts: the holder maker’s instructions govern. Never into drive slots, coolant bores, clamping or thin-walled zones.`;
export const LOCKOUT = say`Work on a held machine: local codes, the site’s lockout procedure, qualified people.`;
/** Of whatever is added or displaced: set screws, rings, weights. */
export const SECURE_WHAT_TURNS = say`Secure screws, rings and weights as their maker says: what comes loose at speed is a projectile. Spin with the guard closed, nobody in the plane of rotation.`;
export const MEASURE_AGAIN = say`A correction is a prediction until it is measured again: clean out chips and coolant first.`;
export const VIBRATION_IS_NO_VERDICT = say`Numbers, not a verdict: what is permitted is said by the machine’s maker, for a speed and a place of the sensor. A hand-held sensor that is pressed on instead of screwed on reads high frequencies too low.`;
export const WHERE_IT_TURNS = say`Measure where the machine’s maker allows it, guards closed, with nothing loose near what turns.`;
