// Densities of what tools and holders are made of: defaults that a plant overrides with what its own scales say.

/** Mass per volume, g/cm³. Where a material varies, `densityGCm3` is the middle of what is usual. */
export interface DensityRow {
  readonly material: string;
  readonly densityGCm3: number;
  readonly lowGCm3?: number;
  readonly highGCm3?: number;
  readonly source: string;
}

const MEMORY = 'from memory';

/** None of them is a maker's figure. */
export const DENSITY_DEFAULTS: readonly DensityRow[] = [
  { material: 'steel', densityGCm3: 7.85, source: MEMORY },
  { material: 'case-hardening steel', densityGCm3: 7.85, source: MEMORY },
  { material: 'hot-work tool steel', densityGCm3: 7.8, source: 'common practice, no source' },
  // Two public figures disagree by more than a percent, so neither is believed to the last digit.
  { material: 'high-speed steel', densityGCm3: 8.1, lowGCm3: 8.05, highGCm3: 8.16, source: MEMORY },
  { material: 'stainless steel', densityGCm3: 7.9, lowGCm3: 7.7, highGCm3: 8, source: MEMORY },
  { material: 'cast iron', densityGCm3: 7.2, lowGCm3: 7.1, highGCm3: 7.3, source: MEMORY },
  { material: 'cemented carbide', densityGCm3: 14.7, lowGCm3: 14.4, highGCm3: 15, source: MEMORY },
  { material: 'tungsten heavy metal', densityGCm3: 17.75, lowGCm3: 17, highGCm3: 18.5, source: MEMORY },
  { material: 'aluminium alloy', densityGCm3: 2.75, lowGCm3: 2.65, highGCm3: 2.85, source: MEMORY },
  { material: 'titanium alloy', densityGCm3: 4.43, source: MEMORY },
  { material: 'brass', densityGCm3: 8.5, lowGCm3: 8.4, highGCm3: 8.7, source: MEMORY },
];
