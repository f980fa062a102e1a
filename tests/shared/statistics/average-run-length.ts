// How many points a chart takes on average until it speaks, as a chain of states (D. Brook and D. A. Evans, Biometrika 59, 1972).
import { shareBelow } from '../../../shared/statistics/distributions.ts';

/** The mean number of steps from each state until the chain is left: (I − Q)·t = 1, by elimination with the largest pivot. */
function stepsUntilLeft(chain: readonly (readonly number[])[]): readonly number[] {
  const size = chain.length;
  const rows = chain.map((row, i) => [...row.map((share, j) => (i === j ? 1 : 0) - share), 1]);
  for (let column = 0; column < size; column += 1) {
    let pivot = column;
    for (let row = column; row < size; row += 1)
      if (Math.abs(rows[row]?.[column] ?? 0) > Math.abs(rows[pivot]?.[column] ?? 0)) pivot = row;
    [rows[column], rows[pivot]] = [rows[pivot] ?? [], rows[column] ?? []];
    const head = rows[column] ?? [];
    for (let row = 0; row < size; row += 1) {
      const factor = row === column ? 0 : (rows[row]?.[column] ?? 0) / (head[column] ?? 1);
      if (factor === 0) continue;
      const line = rows[row] ?? [];
      for (let k = column; k <= size; k += 1) line[k] = (line[k] ?? 0) - factor * (head[k] ?? 0);
    }
  }
  return rows.map((row, i) => (row[size] ?? 0) / (row[i] ?? 1));
}

/** One-sided cumulative sum with reference value k and limit h, both in standard deviations, in so many states. */
function oneSided(k: number, h: number, shift: number, states: number): readonly number[] {
  const width = (2 * h) / (2 * states - 1);
  const below = (value: number): number => shareBelow(value - shift + k);
  const chain = Array.from({ length: states }, (_, i) =>
    Array.from({ length: states }, (__, j) => {
      const upper = below((j - i) * width + width / 2);
      return j === 0 ? upper : upper - below((j - i) * width - width / 2);
    }),
  );
  return stepsUntilLeft(chain);
}

/** Steps from 0 carried on to ever more states: what is left falls with the square of their number (Richardson). */
function carriedOn(at: (states: number) => number): number {
  const [coarse, fine] = [at(60), at(120)];
  return fine + (fine - coarse) / 3;
}

/** Two-sided: both sums run side by side, 1/L = 1/L⁺ + 1/L⁻ (K. W. Kemp 1961; from memory). */
export function cusumRunLength(k: number, h: number, shift: number): number {
  const up = carriedOn((states) => oneSided(k, h, shift, states)[0] ?? 0);
  const down = carriedOn((states) => oneSided(k, h, -shift, states)[0] ?? 0);
  return 1 / (1 / up + 1 / down);
}

/** One-sided, from 0. */
export function oneSidedRunLength(k: number, h: number, shift: number): number {
  return carriedOn((states) => oneSided(k, h, shift, states)[0] ?? 0);
}

/** A level that follows by a share λ of each point, with fixed limits at ± L of its own standard deviations, from 0. */
export function smoothedRunLength(share: number, limits: number, shift: number): number {
  const edge = limits * Math.sqrt(share / (2 - share));
  const at = (states: number): number => {
    const width = (2 * edge) / states;
    const middle = (i: number): number => -edge + (i + 0.5) * width;
    const below = (value: number, from: number): number => shareBelow((value - (1 - share) * from) / share - shift);
    const chain = Array.from({ length: states }, (_, i) =>
      Array.from(
        { length: states },
        (__, j) => below(middle(j) + width / 2, middle(i)) - below(middle(j) - width / 2, middle(i)),
      ),
    );
    return stepsUntilLeft(chain)[(states - 1) / 2] ?? 0;
  };
  const [coarse, fine] = [at(121), at(243)];
  const ratio = (243 / 121) ** 2;
  return fine + (fine - coarse) / (ratio - 1);
}

/** Single points with limits at ± 3 standard deviations, or so many in a row on one side of the centre, whichever speaks first. */
export function runRuleLength(inRow: number, shift: number): number {
  const beyond = 3;
  const up = shareBelow(beyond - shift) - shareBelow(-shift);
  const down = shareBelow(-shift) - shareBelow(-beyond - shift);
  // States: nothing yet, then 1 … inRow − 1 above, then as many below.
  const size = 2 * inRow - 1;
  const chain = Array.from({ length: size }, (_, state) => {
    const row = Array.from({ length: size }, () => 0);
    const above = state >= 1 && state < inRow ? state : 0;
    const under = state >= inRow ? state - inRow + 1 : 0;
    if (above + 1 < inRow) row[above + 1] = up;
    if (under + 1 < inRow) row[inRow + under] = down;
    return row;
  });
  return stepsUntilLeft(chain)[0] ?? 0;
}
