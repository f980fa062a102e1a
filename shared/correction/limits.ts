// What correction advice may spend and show, and what happens beyond it.

/** More plans than these are not shown: the list is for a person at a bench. */
export const PLANS_MAX = 8;
/** What all searches of one advice may look at; beyond it they give a first answer with its bound. Some 60 ms. */
export const SEARCH_STEPS_DEFAULT = 3_000_000;
/** Settings of one tool that are told apart. A finer step is searched in multiples of it, as a first answer. */
export const LEVELS_MAX = 2000;
/** The highest number of sums that half of the screw holes may have before the search gives a first answer. */
export const SCREW_SUMS_MAX = 200_000;
