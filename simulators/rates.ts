// What an hour costs in the invented plant: numbers that only look like a shop's own.
import type { RatesDeclared } from '../shared/headroom.ts';
import { LIMIT_SOURCE } from './spindles.ts';

export const INVENTED_RATES: RatesDeclared = {
  currency: 'EUR',
  spindleHour: { amount: 80, source: LIMIT_SOURCE },
  cutters: [],
};
