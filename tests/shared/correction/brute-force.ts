// Every setting there is, one after the other, by nothing but the effect of a step and the rules as they are written in
// docs/correction.md. Slow and simple: what the searches are held against.
import { sumUnbalance, type UnbalanceVector } from '../../../shared/balance/index.ts';
import { effectOfStep } from '../../../shared/correction/index.ts';
import type { CorrectionFeature, CorrectionStep, FeatureOf } from '../../../shared/messages/index.ts';

type PlaceFeature = FeatureOf<'radial-holes'> | FeatureOf<'axial-holes'> | FeatureOf<'flats'> | FeatureOf<'added-mass'>;

const turn = (deg: number): number => ((deg % 360) + 360) % 360;
const apart = (a: number, b: number): number => Math.min(turn(a - b), turn(b - a));
const degrees = (radians: number): number => (radians * 180) / Math.PI;

/** What is left once these steps are taken, by the vectors alone. */
export function leftAfter(
  measured: UnbalanceVector,
  done: readonly { feature: CorrectionFeature; step: CorrectionStep }[],
) {
  const effects = done.map(({ feature, step }) => {
    const effect = effectOfStep(feature, step);
    if ('reason' in effect) throw new Error(effect.reason);
    return effect;
  });
  return sumUnbalance([measured, ...effects]);
}

export interface Setting {
  readonly steps: readonly CorrectionStep[];
  readonly error2: number;
  readonly effect: UnbalanceVector;
}

function inSector(angle: number, from: number, to: number): boolean {
  const span = turn(to - from);
  const beyond = turn(angle - from);
  return beyond > 1e-9 && beyond < span - 1e-9;
}

export function isFree(feature: CorrectionFeature, angleDeg: number, widthDeg: number): boolean {
  return feature.keepClear.every(({ fromDeg, toDeg }) => {
    if (inSector(angleDeg, fromDeg, toDeg)) return false;
    return Math.min(apart(angleDeg, fromDeg), apart(angleDeg, toDeg)) >= widthDeg - 1e-9;
  });
}

/** Half the angle that a cut needs with so much wall beside it: the corner that comes nearest to a ray decides. */
function half(feature: PlaceFeature, step: CorrectionStep, wallMm: number): number {
  const { depthMm = 0, diameterMm = 0 } = step;
  const aside = (out: number, off: number): number =>
    out > 0 && wallMm < Math.hypot(out, off)
      ? degrees(Math.atan2(off, out) + Math.asin(wallMm / Math.hypot(out, off)))
      : Infinity;
  switch (feature.kind) {
    case 'radial-holes': {
      const point = diameterMm / 2 / Math.tan((feature.pointAngleDeg * Math.PI) / 360);
      const shoulder = feature.radiusMm - depthMm;
      return Math.max(aside(shoulder, diameterMm / 2), aside(shoulder - point, 0));
    }
    case 'axial-holes': {
      const sine = (diameterMm / 2 + wallMm) / feature.radiusMm;
      return sine < 1 ? degrees(Math.asin(sine)) : Infinity;
    }
    case 'flats': {
      const chord = Math.sqrt(2 * feature.radiusMm * depthMm - depthMm ** 2);
      return aside(feature.radiusMm - depthMm, chord);
    }
    case 'added-mass':
      return 0;
  }
}

function gmmAt(feature: PlaceFeature, step: CorrectionStep): number {
  const effect = effectOfStep(feature, step);
  return 'gmm' in effect ? effect.gmm : 0;
}

/** Every single place with its effect, its error and what it occupies. */
export function everyPlace(feature: PlaceFeature) {
  const found: (Setting & { readonly angleDeg: number; readonly halfDeg: number })[] = [];
  const removes = feature.kind !== 'added-mass';
  const stepSize = removes ? feature.depthStepMm : feature.massStepG;
  const wallMm = removes ? feature.wallMm : 0;
  const grid = Array.from({ length: 720 }, (_, i) => i * feature.angleStepDeg).filter((deg) => deg < 360 - 1e-9);
  const angles = new Set((feature.atDeg ?? grid).map(turn));
  for (const diameterMm of 'diametersMm' in feature ? feature.diametersMm : [undefined]) {
    const point =
      'pointAngleDeg' in feature ? (diameterMm ?? 0) / 2 / Math.tan((feature.pointAngleDeg * Math.PI) / 360) : 0;
    const most = removes ? feature.depthMaxMm - point : feature.massMaxG;
    for (let n = 1; n <= most / stepSize + 1e-6; n += 1) {
      const size = n * stepSize;
      for (const angleDeg of angles) {
        const base = { featureId: feature.featureId, angleDeg };
        const at = (value: number): CorrectionStep =>
          removes
            ? { ...base, depthMm: value, ...(diameterMm === undefined ? {} : { diameterMm }) }
            : { ...base, massG: value };
        const step = at(size);
        if (half(feature, step, wallMm) === Infinity || !isFree(feature, angleDeg, half(feature, step, wallMm)))
          continue;
        const effect = effectOfStep(feature, step);
        if (!('gmm' in effect)) continue;
        const low = size - stepSize / 2;
        const off = Math.max(
          effect.gmm - gmmAt(feature, at(low)),
          gmmAt(feature, at(size + stepSize / 2)) - effect.gmm,
        );
        const aside = 2 * effect.gmm * Math.sin((feature.angleStepDeg * Math.PI) / 720);
        found.push({
          steps: [step],
          effect,
          error2: off ** 2 + aside ** 2,
          angleDeg,
          halfDeg: half(feature, step, wallMm / 2),
        });
      }
    }
  }
  return found;
}

export function* everyRings(feature: FeatureOf<'rings'>): Generator<Setting> {
  const marks = Array.from({ length: 3600 }, (_, i) => i * feature.graduationDeg).filter((deg) => deg < 360 - 1e-9);
  const free = marks.filter((deg) => isFree(feature, deg, 0));
  const chord = 2 * Math.sin((feature.graduationDeg * Math.PI) / 720);
  const error2 = (feature.eachGmm[0] * chord) ** 2 + (feature.eachGmm[1] * chord) ** 2;
  for (const first of free) {
    for (const second of free) {
      const { featureId } = feature;
      const steps = [
        { featureId, ring: 1, angleDeg: first },
        { featureId, ring: 2, angleDeg: second },
      ];
      yield {
        steps,
        error2,
        effect: leftAfter(
          { gmm: 0, angleDeg: 0 },
          steps.map((step) => ({ feature, step })),
        ),
      };
    }
  }
}

/** Every content of every hole that the stock, with what is taken out, allows. */
export function* everyScrews(feature: FeatureOf<'set-screws'>): Generator<Setting> {
  const holes = feature.holesDeg.filter((deg) => isFree(feature, deg, 0));
  const nowG = holes.map((deg) => feature.setNow.find(({ holeDeg }) => holeDeg === deg)?.massG ?? 0);
  const atHand = new Map<number, number>();
  for (const { massG, count = 99 } of feature.stock) atHand.set(massG, (atHand.get(massG) ?? 0) + count);
  for (const massG of nowG) atHand.set(massG, (atHand.get(massG) ?? 0) + 1);
  const kinds = [0, ...[...atHand.keys()].filter((massG) => massG > 0)];
  const ways = kinds.length ** holes.length;
  for (let way = 0; way < ways; way += 1) {
    const chosen = holes.map((_, i) => kinds[Math.floor(way / kinds.length ** i) % kinds.length] ?? 0);
    const used = (massG: number): number => chosen.filter((one) => one === massG).length;
    if (kinds.some((massG) => massG > 0 && used(massG) > (atHand.get(massG) ?? 0))) continue;
    const steps = holes.flatMap((angleDeg, i) =>
      chosen[i] === nowG[i] ? [] : [{ featureId: feature.featureId, angleDeg, massG: chosen[i] ?? 0 }],
    );
    yield {
      steps,
      error2: 0,
      effect: leftAfter(
        { gmm: 0, angleDeg: 0 },
        steps.map((step) => ({ feature, step })),
      ),
    };
  }
}

/** U + ΔU after a setting. */
export function worstAfter(measured: UnbalanceVector, errorGmm: number, settings: readonly Setting[]): number {
  const left = sumUnbalance([measured, ...settings.map(({ effect }) => effect)]);
  return left.gmm + Math.sqrt(settings.reduce((sum, { error2 }) => sum + error2, errorGmm ** 2));
}
