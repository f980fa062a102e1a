// What passes between the main thread and the trends' thread; both ends are typed from this one list.
import type { Position } from '../../shared/entries.ts';
import type { MonthHappened } from '../../shared/month.ts';
import type { RecordPage } from '../../shared/record.ts';
import type { RibbonsView } from '../../shared/ribbons.ts';
import type { SeriesView } from '../../shared/views.ts';
import type { SpectrogramView } from '../../shared/wave-views.ts';
import type { JournalSettings } from '../journal/index.ts';
import type { MonthAsked, RibbonsAsked, SeriesAsked } from './trends.ts';
import type { RecordAsked } from './record-tables.ts';
import type { SpectrogramAsked, WindowsAsked, WindowsFound } from './window-answers.ts';
import type { FoundWindow } from './window-tables.ts';

export interface TrendsSettings {
  readonly journal: JournalSettings;
  /** Made if it is not there; may be deleted at any stop. */
  readonly file: string;
  /** How often the journal is looked at for more; 1000 ms unless said. */
  readonly followMs?: number;
}

export interface TrendCalls {
  series(asked: SeriesAsked): SeriesView;
  ribbons(asked: RibbonsAsked): RibbonsView;
  month(asked: MonthAsked): MonthHappened;
  windows(asked: WindowsAsked): WindowsFound;
  window(id: Position): FoundWindow | undefined;
  spectrogram(asked: SpectrogramAsked): SpectrogramView;
  record(asked: RecordAsked): RecordPage;
  /** Reads all that the journal has now. */
  catchUp(): Position;
  position(): Position;
  close(): void;
}
export type TrendCallName = keyof TrendCalls;

export interface ToTrends {
  readonly number: number;
  readonly name: TrendCallName;
  readonly args: readonly unknown[];
}

export type FromTrends =
  | { readonly kind: 'ready' }
  /** Nothing could be opened; the thread ends. */
  | { readonly kind: 'failed'; readonly message: string }
  | { readonly kind: 'answer'; readonly number: number; readonly value: unknown }
  | { readonly kind: 'failed-call'; readonly number: number; readonly message: string }
  /** Following the journal failed; it is tried again at the next look. */
  | { readonly kind: 'trouble'; readonly message: string };
