// The picture of who travelled with whom: where each pair stands, and how it ran against what was to be expected. Pure.
import { say } from '../../shared/language/index.ts';
import type { TravelCell, Travels } from '../../shared/travels.ts';

/** The smallest rise that is looked for, and its inverse: between them a pair ran as expected. Common practice, no source. */
export const LOUDER_FROM = 1.4;
const QUIETER_TO = 1 / LOUDER_FROM;

export type Ran = 'louder' | 'as-expected' | 'quieter' | 'not-known' | 'never';

export const RAN_WORDS: Readonly<Record<Ran, string>> = {
  louder: say`louder than expected`,
  'as-expected': say`as expected`,
  quieter: say`quieter than expected`,
  'not-known': say`nothing to expect yet`,
  never: say`never together`,
};

/** Behind how many times what was expected it ran at. */
export const RAN_SHORT: Readonly<Record<Ran, string>> = {
  ...RAN_WORDS,
  louder: say`louder`,
  quieter: say`quieter`,
};

export interface MatrixCell {
  readonly spindleId: string;
  readonly assemblyId: string;
  readonly ran: Ran;
  /** Observed ÷ expected; absent where nothing is expected. */
  readonly ratio?: number;
  readonly cell?: TravelCell;
  /** Ran before the change that the hold is about. */
  readonly before: boolean;
  /** In the row or column that the hold suspects. */
  readonly suspect: boolean;
}

export function ratioOfCell({ observedMmS, expectedMmS }: TravelCell): number | undefined {
  return expectedMmS === undefined || expectedMmS <= 0 ? undefined : observedMmS / expectedMmS;
}

function ranOf(cell: TravelCell | undefined): Ran {
  if (cell === undefined) return 'never';
  const ratio = ratioOfCell(cell);
  if (ratio === undefined) return 'not-known';
  if (ratio >= LOUDER_FROM) return 'louder';
  return ratio <= QUIETER_TO ? 'quieter' : 'as-expected';
}

/** Row by row: assemblies down, spindles across. */
export function matrixRows({
  assemblies,
  spindles,
  cells,
  suspects,
  since = 0,
}: Travels): readonly (readonly MatrixCell[])[] {
  return assemblies.map((assemblyId) =>
    spindles.map((spindleId) => {
      const cell = cells.find((one) => one.assemblyId === assemblyId && one.spindleId === spindleId);
      const ratio = cell === undefined ? undefined : ratioOfCell(cell);
      return {
        spindleId,
        assemblyId,
        ran: ranOf(cell),
        before: cell !== undefined && cell.at < since,
        suspect: suspects.assemblies.includes(assemblyId) || suspects.spindles.includes(spindleId),
        ...(cell === undefined ? {} : { cell }),
        ...(ratio === undefined ? {} : { ratio }),
      };
    }),
  );
}

/** What the picture says, in one sentence: along the row, along the column. */
export function matrixSentence(travels: Travels): string | undefined {
  const [spindleId] = travels.spindles;
  const [assemblyId] = travels.assemblies;
  if (spindleId === undefined || assemblyId === undefined) return undefined;
  const all = matrixRows(travels).flat();
  const elsewhere = all.filter((one) => one.assemblyId === assemblyId && one.spindleId !== spindleId);
  const others = all.filter((one) => one.spindleId === spindleId && one.assemblyId !== assemblyId);
  return say`${assemblyId} in other spindles: ${tally(elsewhere)}. Other assemblies in ${spindleId}: ${tally(others)}.`;
}

/** What ran before the change says nothing of it. */
function tally(all: readonly MatrixCell[]): string {
  const cells = all.filter((one) => !one.before);
  if (cells.every((one) => one.cell === undefined) && all.some((one) => one.before))
    return say`none has run since the change`;
  const ran = cells.filter((one) => one.ratio !== undefined);
  if (ran.length === 0) return say`none that can be compared`;
  const loud = ran.filter((one) => one.ran === 'louder').length;
  return loud === 0
    ? say`none of ${ran.length} louder than expected`
    : say`${loud} of ${ran.length} louder than expected`;
}
