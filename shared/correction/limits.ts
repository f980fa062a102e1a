// What correction advice may spend and show, and what happens beyond it.

/** More plans than these are not shown: the list is for a person at a bench. */
export const PLANS_MAX = 8;
/** What the searches of one advice may look at, shared among its methods; beyond it they give a first answer. */
export const SEARCH_STEPS_DEFAULT = 1_000_000;
/** Settings of one tool that are told apart. A finer step is searched in multiples of it, as a first answer. */
export const LEVELS_MAX = 20_000;
/** The highest number of sums that half of the screw holes may have before the search gives a first answer. */
export const SCREW_SUMS_MAX = 200_000;
/** So many sums a search for screws looks at; masses of milligrams beside kilograms crowd in one place. Some 60 ms. */
export const SCREW_LOOKS_MAX = 10_000_000;
/** As SCREW_SUMS_MAX, where screws finish what another method began: they are asked for many rests. Eight holes with six masses. */
export const FINE_SCREW_SUMS_MAX = 2500;
/** A plan that leaves less than this share of what is permitted is enough: no more places, no second method. */
export const ENOUGH_SHARE = 0.5;
/** A proof may lay out more sums than an advice that somebody waits for. */
export const PROOF_SUMS_MAX = 2_000_000;
/** A proof ends at less than this: no bench tells it from nothing, g·mm. */
export const PROOF_ENOUGH_GMM = 1e-4;
