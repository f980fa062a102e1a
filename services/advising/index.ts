// Correction advice computed in threads of its own, so that neither intake nor receipts nor screens ever wait for a search.
export { openAdvising, type Advising, type AdviceTold } from './client.ts';
export { ADVISING_LIMITS, type AdvisingLimits } from './limits.ts';
