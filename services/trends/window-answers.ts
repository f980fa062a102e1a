// Answers about raw windows: the newest, or as many as a screen shows of a long time; their levels, the loudest of each stretch.
import type { Position } from '../../shared/entries.ts';
import type { Instant } from '../../shared/time.ts';
import type { SpectrogramView, WavesChosen } from '../../shared/wave-views.ts';
import type { WindowLevels, WindowPlace, WindowRow, WindowTables } from './window-tables.ts';

export interface WindowsAsked {
  readonly spindleId: string;
  readonly from: Instant;
  readonly to: Instant;
  readonly limit: number;
  /** Where there are more than `limit`. */
  readonly chosen: WavesChosen;
}

export interface WindowsFound {
  /** Newest first. */
  readonly waves: readonly (WindowRow & { readonly kept: boolean })[];
  readonly more: boolean;
  readonly stillReadPercent?: number;
}

export interface SpectrogramAsked {
  readonly spindleId: string;
  readonly from: Instant;
  readonly to: Instant;
  readonly columns: number;
  /** Left out: the one with most windows in that time. */
  readonly channel?: string;
}

type Tables = Pick<WindowTables, 'places' | 'row' | 'levels'>;

export function windowsFound(
  tables: Tables,
  { spindleId, from, to, limit, chosen }: WindowsAsked,
): { readonly rows: readonly WindowRow[]; readonly more: boolean } {
  const places = tables.places(spindleId, from, to);
  const rows = chosenOf(places, limit, chosen).flatMap(({ id }) => {
    const row = tables.row(id);
    if (row === undefined) return [];
    const { spindleId: _spindleId, ...listed } = row;
    return [listed];
  });
  return { rows: rows.toReversed(), more: places.length > limit };
}

function chosenOf<T>(list: readonly T[], wanted: number, chosen: WavesChosen): readonly T[] {
  switch (chosen) {
    case 'newest':
      return list.slice(-wanted);
    case 'evenly':
      return evenly(list, wanted);
  }
}

/** The last one and as many before it as wanted, the same number of others between two of them. */
function evenly<T>(list: readonly T[], wanted: number): readonly T[] {
  if (list.length <= wanted) return list;
  const step = wanted === 1 ? 0 : (list.length - 1) / (wanted - 1);
  const last = list.length - 1;
  return Array.from({ length: wanted }, (_, index) => list[Math.round(last - (wanted - 1 - index) * step)]).filter(
    (one) => one !== undefined,
  );
}

/** Bands of different windows are laid over each other; where sampling ended one earlier there is nothing. */
export function spectrogramView(tables: Tables, asked: SpectrogramAsked): SpectrogramView {
  const { spindleId, from, to, columns, channel } = asked;
  const all = tables.places(spindleId, from, to).filter(({ overall }) => overall !== null);
  const wanted = channel ?? commonestChannel(all);
  const chosen = loudestOfEach(
    all.filter((place) => place.channel === wanted),
    asked,
    columns,
  );
  const found = chosen.flatMap((id) => tables.levels(id) ?? []);
  // Of another width of bands, as another release may have made them, nothing can be laid over these.
  const perOctave = found.at(-1)?.perOctave ?? 0;
  const alike = found.filter((one) => one.perOctave === perOctave);
  const lowestHz = Math.min(...alike.map(({ lowest }) => lowest));
  const placeOf = ({ lowest }: WindowLevels): number => Math.round(Math.log2(lowest / lowestHz) * perOctave);
  const bands = Math.max(0, ...alike.map((one) => placeOf(one) + one.levels.length));
  return {
    from,
    to,
    lowestHz: alike.length === 0 ? 0 : lowestHz,
    bandsPerOctave: perOctave,
    bands,
    columns: alike.map((one) => ({
      waveId: one.id,
      at: one.at,
      ...(one.speed === null ? {} : { speedRpm: one.speed }),
      velocityMmS: Array.from({ length: bands }, (_, band) => {
        const level = one.levels[band - placeOf(one)];
        return level === undefined ? null : rounded(level);
      }),
    })),
  };
}

function commonestChannel(places: readonly WindowPlace[]): string | undefined {
  const counts = new Map<string, number>();
  for (const { channel } of places) counts.set(channel, (counts.get(channel) ?? 0) + 1);
  let commonest: string | undefined;
  for (const [channel, count] of counts) if (count > (counts.get(commonest ?? '') ?? 0)) commonest = channel;
  return commonest;
}

/** Of each stretch of the time the window with the greatest overall value: what stood out is not thinned away. */
function loudestOfEach(
  places: readonly WindowPlace[],
  { from, to }: { readonly from: Instant; readonly to: Instant },
  columns: number,
): readonly Position[] {
  if (places.length <= columns) return places.map(({ id }) => id);
  const loudest = new Map<number, WindowPlace>();
  for (const place of places) {
    const column = Math.floor(((place.at - from) / (to - from)) * columns);
    const before = loudest.get(column);
    if (before === undefined || (place.overall ?? 0) > (before.overall ?? 0)) loudest.set(column, place);
  }
  return [...loudest.values()].map(({ id }) => id);
}

/** Three digits, as they were told. */
const rounded = (level: number): number => Number(level.toPrecision(3));
