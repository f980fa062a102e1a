// A number as it was told, only its decimal mark that of the language: sizes that are set, and names such as G 2.5. Pure.
import { numberMarks, say } from '../../shared/language/index.ts';

export const plainNumber = (value: number): string => String(value).replace('.', numberMarks().decimal);

/** G 6.3 */
export const gradeName = (gradeMmS: number): string => say`G ${plainNumber(gradeMmS)}`;
