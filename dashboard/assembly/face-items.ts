// How each thing on the face is drawn: holes seen from the end solid, what lies under the surface dashed.
import type { SVGTemplateResult } from 'lit';
import { svg } from '../language/html.ts';
import { pointAt } from '../drawing/polar.ts';
import type { FaceItem, PlacedItem } from './face-shape.ts';

const SCREW_PX = 7;

/** Where its label's leader starts. */
export function itemRadiusMm(item: Exclude<FaceItem, { kind: 'ring' }>): number {
  switch (item.kind) {
    case 'radial-hole':
    case 'flat':
      return item.surfaceMm - item.depthMm / 2;
    case 'axial-hole':
    case 'screw':
    case 'mass':
      return item.radiusMm;
  }
}

export function faceItem(
  { item, angleDeg, step }: PlacedItem,
  pxPerMm: number,
  ringsPx: readonly [number, number],
): SVGTemplateResult {
  const turned = `rotate(${-angleDeg})`;
  switch (item.kind) {
    case 'radial-hole': {
      const [half, top] = [(item.diameterMm / 2) * pxPerMm, -item.surfaceMm * pxPerMm];
      const [depth, point] = [item.depthMm * pxPerMm, item.pointMm * pxPerMm];
      return svg`<path class="hidden" transform=${turned} d=${`M${-half} ${top}v${depth}l${half} ${point}l${half} ${-point}v${-depth}z`} />`;
    }
    case 'axial-hole': {
      const { x, y } = pointAt(item.radiusMm * pxPerMm, angleDeg);
      return svg`<circle class="hole" cx=${x} cy=${y} r=${(item.diameterMm / 2) * pxPerMm} />`;
    }
    case 'flat': {
      const radius = item.surfaceMm * pxPerMm;
      const level = radius - item.depthMm * pxPerMm;
      const half = Math.sqrt(Math.max(0, radius ** 2 - level ** 2));
      return svg`<path class="cut" transform=${turned} d=${`M${-half} ${-level}A${radius} ${radius} 0 0 1 ${half} ${-level}z`} />`;
    }
    case 'screw': {
      const { x, y } = pointAt(item.radiusMm * pxPerMm, angleDeg);
      return svg`<circle class=${item.filled ? 'filled' : 'hole'} cx=${x} cy=${y} r=${SCREW_PX} opacity=${step === undefined ? 0.55 : 1} />`;
    }
    case 'mass': {
      const { x, y } = pointAt(item.radiusMm * pxPerMm, angleDeg);
      return svg`<rect class="filled" x="-7" y="-5" width="14" height="10" transform=${`translate(${x} ${y}) ${turned}`} />`;
    }
    case 'ring': {
      const inner = ringsPx[item.ring - 1] ?? ringsPx[0];
      return svg`<path class="filled" transform=${turned} d=${`M-8 ${-inner - 1}A${inner} ${inner} 0 0 1 8 ${-inner - 1}V${-inner - 11}A${inner + 10} ${inner + 10} 0 0 0 -8 ${-inner - 11}Z`} />`;
    }
  }
}
