// The bands around the polar picture: one for each feature, its keep-clear sectors hatched, its places and what is set now.
import type { SVGTemplateResult } from 'lit';
import { svg } from '../language/html.ts';
import { pointAt, sectorPath } from '../drawing/polar.ts';
import { TRACKS_MAX, type FeatureTrack } from './feature-track.ts';
import { textOf } from '../../shared/language/index.ts';

export const TRACK_PX = 15;
const PLACE_PX = 4;

export function trackMarks(tracks: readonly FeatureTrack[], radiusPx: number): SVGTemplateResult[] {
  return tracks.slice(0, TRACKS_MAX).map((track, index) => {
    const inner = radiusPx + index * TRACK_PX;
    const middle = inner + TRACK_PX / 2;
    const place = (angleDeg: number, now: boolean): SVGTemplateResult => {
      const { x, y } = pointAt(middle, angleDeg);
      return svg`<circle class=${now ? 'place now' : 'place'} cx=${x} cy=${y} r=${PLACE_PX} />`;
    };
    return svg`<circle class="track" r=${inner + TRACK_PX} />
      ${track.keepClear.map(({ fromDeg, toDeg, why }) => {
        return svg`<path class="keep-clear" fill="url(#dense)" d=${sectorPath(inner + 2, inner + TRACK_PX - 2, fromDeg, toDeg)}>
          <title>keep clear${why === undefined ? '' : `: ${textOf(why)}`}</title></path>`;
      })}
      ${track.atDeg.map((angleDeg) => place(angleDeg, false))} ${track.nowDeg.map((angleDeg) => place(angleDeg, true))}`;
  });
}
