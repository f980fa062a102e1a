// The face of the reference data: densities, interfaces, grade guidance, each row with its source, the plant's own first.
export { type DensityRow } from './densities.ts';
export { type GradeRow } from './grade-guidance.ts';
export {
  densityOf,
  gradeFor,
  interfaceScatterOf,
  referenceTables,
  type Own,
  type ReferenceTables,
} from './reference-tables.ts';
