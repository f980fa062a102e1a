// The forty invented assemblies: parts, masses, marked maxima, grades, speeds. None is anybody's product.
import type { Build, CorrectionFeature } from '../shared/messages/index.ts';
import { BORING_HOLDER, FACE_MILL_ARBOR, LARGE_ARBOR, RING_HOLDER, SLIM_HOLDER, SMALL_HOLDER } from './features.ts';
import type { InterfaceName } from './spindles.ts';
import { prngOf, type Prng } from './prng.ts';

type Part = Build['parts'][number];

export interface SimulatedAssembly {
  readonly index: number;
  readonly assemblyId: string;
  readonly interface: InterfaceName;
  readonly massKg: number;
  readonly serviceSpeedRpm: number;
  readonly gradeMmS: number;
  readonly teeth: number;
  /** Two correction planes, by their distance from the face of the interface; one where there is one. */
  readonly planesAtMm: readonly number[];
  readonly parts: readonly Part[];
  /** Where it can be corrected. */
  readonly features: readonly CorrectionFeature[];
  /** Kept out of ordinary life: for what is to be shown. */
  readonly scene: Scene;
}

/** shelf: goes round in ordinary life. The others wait for their scene. */
export type Scene = 'shelf' | 'to-correct' | 'slow' | 'changed';

interface Family {
  readonly interface: InterfaceName;
  readonly count: number;
  readonly holder: string;
  readonly cutter: string;
  readonly extension?: string;
  readonly screws?: string;
  readonly teeth: number;
  readonly massKg: readonly [number, number];
  readonly speedsRpm: readonly number[];
  readonly holderMaxRpm: number;
  readonly cutterMaxRpm: number;
  readonly planesAtMm: readonly number[];
  readonly features: readonly CorrectionFeature[];
}

const FAMILIES: readonly Family[] = [
  {
    interface: 'HSK-A63',
    count: 8,
    holder: 'Shrink holder HSK-A63 12x120 (invented)',
    cutter: 'End mill 12 (invented)',
    teeth: 3,
    massKg: [1.1, 1.6],
    speedsRpm: [12_000, 12_000, 10_000],
    holderMaxRpm: 25_000,
    cutterMaxRpm: 22_000,
    planesAtMm: [60],
    features: SLIM_HOLDER,
  },
  {
    interface: 'HSK-A63',
    count: 8,
    holder: 'Milling chuck HSK-A63 20x105 (invented)',
    cutter: 'End mill 20 (invented)',
    teeth: 4,
    massKg: [1.8, 2.6],
    speedsRpm: [10_000, 8000],
    holderMaxRpm: 18_000,
    cutterMaxRpm: 20_000,
    planesAtMm: [70],
    features: RING_HOLDER,
  },
  {
    interface: 'HSK-A63',
    count: 8,
    holder: 'Face mill arbor HSK-A63 22x60 (invented)',
    cutter: 'Face mill 50 with inserts (invented)',
    screws: 'Insert screws (invented)',
    teeth: 5,
    massKg: [2.4, 3.2],
    speedsRpm: [8000, 6000],
    holderMaxRpm: 16_000,
    cutterMaxRpm: 14_500,
    planesAtMm: [85],
    features: FACE_MILL_ARBOR,
  },
  {
    interface: 'HSK-A100',
    count: 4,
    holder: 'Arbor HSK-A100 40x120 (invented)',
    cutter: 'Face mill 100 with inserts (invented)',
    screws: 'Insert screws (invented)',
    teeth: 7,
    massKg: [5.2, 6.8],
    speedsRpm: [6000, 5000],
    holderMaxRpm: 10_000,
    cutterMaxRpm: 8500,
    planesAtMm: [110],
    features: LARGE_ARBOR,
  },
  {
    interface: 'HSK-A100',
    count: 4,
    holder: 'Boring holder HSK-A100 (invented)',
    extension: 'Extension 200 (invented)',
    cutter: 'Boring head 68 to 90 (invented)',
    teeth: 2,
    massKg: [7, 9],
    speedsRpm: [4000, 3500],
    holderMaxRpm: 10_000,
    cutterMaxRpm: 6000,
    planesAtMm: [60, 290],
    features: BORING_HOLDER,
  },
  {
    interface: 'HSK-E50',
    count: 8,
    holder: 'Shrink holder HSK-E50 6x80 (invented)',
    cutter: 'Ball nose mill 6 (invented)',
    teeth: 2,
    massKg: [0.75, 1],
    speedsRpm: [15_000, 14_000],
    holderMaxRpm: 30_000,
    cutterMaxRpm: 32_000,
    planesAtMm: [45],
    features: SMALL_HOLDER,
  },
];

const GRADE_MMS = 6.3;
const FIRST_NUMBER = 101;
/** The last of three families wait for their scene; the slow one is a face mill for 6,000 rpm. */
const SCENES: Readonly<Record<number, Scene>> = { 7: 'changed', 15: 'to-correct', 23: 'slow' };

export function makeAssemblies(seed: number): readonly SimulatedAssembly[] {
  const places = FAMILIES.flatMap((family) =>
    Array.from({ length: family.count }, (_, nth) => ({
      family,
      speedRpm: family.speedsRpm[nth % family.speedsRpm.length],
    })),
  );
  return places.map(({ family, speedRpm }, index) => {
    const prng = prngOf(seed, 'assembly', index);
    const massKg = Math.round(prng.between(...family.massKg) * 1000) / 1000;
    const assemblyId = `A-${String(FIRST_NUMBER + index).padStart(4, '0')}`;
    return {
      index,
      assemblyId,
      interface: family.interface,
      massKg,
      serviceSpeedRpm: speedRpm ?? 6000,
      gradeMmS: GRADE_MMS,
      teeth: family.teeth,
      planesAtMm: family.planesAtMm,
      features: family.features,
      parts: partsOf(family, { massKg, assemblyId, prng }),
      scene: SCENES[index] ?? 'shelf',
    };
  });
}

function partsOf(
  family: Family,
  { massKg, assemblyId, prng }: { readonly massKg: number; readonly assemblyId: string; readonly prng: Prng },
): readonly Part[] {
  const shares = { holder: prng.between(0.55, 0.65), extension: family.extension === undefined ? 0 : 0.2 };
  const kg = (share: number): number => Math.max(0.001, Math.round(massKg * share * 1000) / 1000);
  const parts: Part[] = [
    {
      role: 'holder',
      name: family.holder,
      serial: `H${assemblyId.slice(2)}-${prng.whole(1000, 9999)}`,
      massKg: kg(shares.holder),
      markedMaxSpeedRpm: family.holderMaxRpm,
    },
  ];
  if (family.extension !== undefined)
    parts.push({ role: 'extension', name: family.extension, massKg: kg(shares.extension) });
  const left = 1 - shares.holder - shares.extension - (family.screws === undefined ? 0 : 0.02);
  parts.push({ role: 'cutter', name: family.cutter, massKg: kg(left), markedMaxSpeedRpm: family.cutterMaxRpm });
  if (family.screws !== undefined) parts.push({ role: 'screw', name: family.screws, massKg: kg(0.02) });
  return parts;
}

/** The lowest marked maximum of all parts, rpm. */
export function markedMaxRpm(assembly: SimulatedAssembly): number {
  return Math.min(...assembly.parts.flatMap((part) => part.markedMaxSpeedRpm ?? []));
}
