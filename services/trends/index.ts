// Trends: what each spindle measured, minute by minute and hour by hour, read from the journal by a thread of its own.
export { openTrends, type TrendsClient, type TrendsEvents } from './client.ts';
export type { TrendsSettings } from './protocol.ts';
export { Trends, type JournalFollowed, type MonthAsked, type RibbonsAsked, type SeriesAsked } from './trends.ts';
export type { RecordAsked } from './record-tables.ts';
export type { SpectrogramAsked, WindowsAsked, WindowsFound } from './window-answers.ts';
export type { FoundWindow } from './window-tables.ts';
