// Which readings tell of the spindle itself, for the trend of one speed: warm, at a steady speed, not cutting, soundly measured.
import { NOT_COMPARABLE_REASONS, type NotComparableReason } from '../../shared/outcomes.ts';

/** What speaks against a load or a person's decision does not speak against the figure. */
const TELLS_THE_SPINDLE = {
  cutting: false,
  unsteady: false,
  'sensor-fault': false,
  standstill: false,
  'nothing-loaded': true,
  late: false,
  'no-synchronous': true,
  'on-hold': true,
  cold: false,
  'wrong-speed': false,
  'planned-work': false,
} as const satisfies Record<NotComparableReason, boolean>;

/** Of a reading, by why it cannot be compared; undefined where it can. */
export function tellsTheSpindle(reason: NotComparableReason | undefined): boolean {
  return reason === undefined || TELLS_THE_SPINDLE[reason];
}

/** By the place in a row of reasons; place 0 counts comparable readings. Asked half a million times for a year. */
export const TELLS_AT: readonly boolean[] = [
  true,
  ...NOT_COMPARABLE_REASONS.map((reason) => TELLS_THE_SPINDLE[reason]),
];
