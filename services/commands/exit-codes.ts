// With which code a command ends: one meaning each, so that scripts can tell them apart.

export const EXIT_FAILED = 1;
/** The work was done, and what was looked at is not as it was recorded. */
export const EXIT_OTHERWISE = 3;
export const EXIT_USAGE = 64;
/** sysexits.h EX_CONFIG. */
export const EXIT_CONFIG = 78;
