// What there is a trend of. Without a schema: the thread that keeps the trends checks nothing.

/** Part of what is stored hangs on their order. */
export const SERIES_QUANTITIES = ['overallMmS', 'synchronousMmS', 'ratio', 'speedRpm'] as const;
export type SeriesQuantity = (typeof SERIES_QUANTITIES)[number];
