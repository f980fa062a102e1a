// How long and how large rates may be; apart from the schemas, so that a browser reads them without a validator.
/** Above any rate of a shop in any currency; beyond it a number is mistyped (our own choice, no source). */
export const RATE_AMOUNT_MAX = 1e9;
export const CUTTER_RATES_MAX = 200;
export const CUTTER_NAME_CHARACTERS_MAX = 80;
export const CUTTER_CHANGE_MAX_MIN = 10_000;
export const RATE_SOURCE_CHARACTERS_MAX = 200;
export const CURRENCY_CHARACTERS_MAX = 12;
