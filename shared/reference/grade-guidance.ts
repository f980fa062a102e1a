// Which balance quality grade is usual for what: guidance for who has no demand yet. The maker's demand comes first.

export interface GradeRow {
  readonly use: string;
  readonly gradeMmS: number;
  readonly source: string;
}

const PRACTICE = 'common practice, no source; worded after ISO 21940-11, from memory';

/** The wording is that of the trade; not checked against a copy of ISO 21940-11. */
export const GRADE_DEFAULTS: readonly GradeRow[] = [
  { use: 'spindles and drives of highest precision, gyroscopes', gradeMmS: 0.4, source: PRACTICE },
  { use: 'grinding machine drives', gradeMmS: 1, source: PRACTICE },
  { use: 'machine-tool drives', gradeMmS: 2.5, source: PRACTICE },
  { use: 'turbines and compressors', gradeMmS: 2.5, source: PRACTICE },
  { use: 'rotating tooling, fine', gradeMmS: 2.5, source: 'common practice, no source' },
  { use: 'rotating tooling, usual', gradeMmS: 6.3, source: 'common practice, no source' },
  { use: 'machine-tool and general machinery parts', gradeMmS: 6.3, source: PRACTICE },
  { use: 'fans, pump impellers, flywheels', gradeMmS: 6.3, source: PRACTICE },
  { use: 'crushing and farm machinery parts', gradeMmS: 16, source: PRACTICE },
  { use: 'wheels, rims, drive shafts', gradeMmS: 40, source: PRACTICE },
];
