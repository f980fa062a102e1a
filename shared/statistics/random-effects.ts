// How likely a row of numbers is, where each is the sum of effects that some of them share and of an error of its own.

/** Numbers, each with an error of its own and the effects that it holds; all normal, with mean 0. */
export interface EffectModel {
  /** Of each number's own error. */
  readonly errorVariances: readonly number[];
  /** Which effects each number holds, by their place in `effectVariances`. */
  readonly effectsOf: readonly (readonly number[])[];
  readonly effectVariances: readonly number[];
}

/** The model worked out once, for many rows of numbers. */
export interface FactoredModel {
  readonly model: EffectModel;
  /** Lower triangle of the Cholesky factor of G⁻¹ + ZᵀD⁻¹Z, by rows. */
  readonly factor: Float64Array;
  /** ln of the determinant of the numbers' covariance, and n·ln 2π. */
  readonly logScale: number;
}

/**
 * Covariance D + Z·G·Zᵀ by Woodbury's identity and the determinant lemma (Harville, "Matrix Algebra From a Statistician's
 * Perspective", 18.1 and 18.2; from memory): the work grows with the cube of the effects, not of the numbers.
 */
export function factored(model: EffectModel): FactoredModel {
  const { errorVariances, effectsOf, effectVariances } = model;
  const effects = effectVariances.length;
  const factor = new Float64Array(effects * effects);
  let logScale = errorVariances.length * Math.log(2 * Math.PI);
  for (let k = 0; k < effects; k += 1) {
    const variance = effectVariances[k] ?? 1;
    factor[k * effects + k] = 1 / variance;
    logScale += Math.log(variance);
  }
  for (let row = 0; row < errorVariances.length; row += 1) {
    const variance = errorVariances[row] ?? 1;
    logScale += Math.log(variance);
    const held = effectsOf[row] ?? [];
    for (const one of held)
      for (const other of held)
        if (other <= one) factor[one * effects + other] = (factor[one * effects + other] ?? 0) + 1 / variance;
  }
  return { model, factor, logScale: logScale + decomposed(factor, effects) };
}

/** In place, from the lower triangle; returns ln of the determinant. */
function decomposed(matrix: Float64Array, size: number): number {
  let logDeterminant = 0;
  for (let row = 0; row < size; row += 1) {
    for (let column = 0; column <= row; column += 1) {
      let sum = matrix[row * size + column] ?? 0;
      for (let k = 0; k < column; k += 1) sum -= (matrix[row * size + k] ?? 0) * (matrix[column * size + k] ?? 0);
      if (row === column) {
        const root = Math.sqrt(Math.max(sum, Number.MIN_VALUE));
        matrix[row * size + row] = root;
        logDeterminant += 2 * Math.log(root);
      } else matrix[row * size + column] = sum / (matrix[column * size + column] ?? 1);
    }
  }
  return logDeterminant;
}

/** ZᵀD⁻¹·values, then solved against the lower factor. */
function projected({ model, factor }: FactoredModel, values: ArrayLike<number>): Float64Array {
  const { errorVariances, effectsOf, effectVariances } = model;
  const effects = effectVariances.length;
  const solved = new Float64Array(effects);
  for (let row = 0; row < errorVariances.length; row += 1) {
    const weighted = (values[row] ?? 0) / (errorVariances[row] ?? 1);
    for (const one of effectsOf[row] ?? []) solved[one] = (solved[one] ?? 0) + weighted;
  }
  for (let row = 0; row < effects; row += 1) {
    let sum = solved[row] ?? 0;
    for (let k = 0; k < row; k += 1) sum -= (factor[row * effects + k] ?? 0) * (solved[k] ?? 0);
    solved[row] = sum / (factor[row * effects + row] ?? 1);
  }
  return solved;
}

/** ln of the density of these numbers, less their means, under the model. */
export function logDensity(factoredModel: FactoredModel, values: ArrayLike<number>): number {
  const { errorVariances } = factoredModel.model;
  let squares = 0;
  for (let row = 0; row < errorVariances.length; row += 1) {
    const value = values[row] ?? 0;
    squares += (value * value) / (errorVariances[row] ?? 1);
  }
  for (const one of projected(factoredModel, values)) squares -= one * one;
  return -(squares + factoredModel.logScale) / 2;
}

/** What the numbers make of each effect: its mean given them, shrunk towards 0 by its variance. */
export function effectMeans(factoredModel: FactoredModel, values: ArrayLike<number>): Float64Array {
  const { factor } = factoredModel;
  const means = projected(factoredModel, values);
  const effects = means.length;
  for (let row = effects - 1; row >= 0; row -= 1) {
    let sum = means[row] ?? 0;
    for (let k = row + 1; k < effects; k += 1) sum -= (factor[k * effects + row] ?? 0) * (means[k] ?? 0);
    means[row] = sum / (factor[row * effects + row] ?? 1);
  }
  return means;
}
