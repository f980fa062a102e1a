// What the polar picture shows, in words under it: only what is in it.
import { nothing, type TemplateResult } from 'lit';
import { html } from '../language/html.ts';
import { speed, unbalance, unitOf } from '../wording/figures.ts';
import { moment, type PlantClock } from '../wording/instants.ts';
import { TRACKS_MAX } from './feature-track.ts';
import type { Reading } from './rose-shape.ts';
import { say } from '../../shared/language/index.ts';

export interface RoseTold {
  readonly newest: Reading;
  readonly clock: PlantClock;
  readonly before: number;
  /** Older ones that are in the table only. */
  readonly notDrawn: number;
  readonly speedRpm: number | undefined;
  readonly tracks: number;
  readonly own: boolean;
  readonly predicted: boolean;
}

export function roseKey({ newest, clock, before, notDrawn, speedRpm, ...has }: RoseTold): TemplateResult {
  const { permissibleGmm, errorGmm, own } = newest;
  return html`<p class="soft small">
    In ${unitOf('g.mm')}, counter-clockwise from the mark on the assembly. Filled: ${moment(newest.at, clock)}, on
    ${newest.bench}, its disk the measuring error, ±
    ${unbalance(errorGmm)}.${before > 0 ? say` Open: before it, joined in the order of measuring.` : nothing}${notDrawn > 0 ? say` ${notDrawn} older ones stand in the table only.` : nothing}
    ${
      permissibleGmm === undefined
        ? say`No permissible residual: mass, grade or service speed is not known.`
        : html`Thick circle: permissible${speedRpm === undefined ? nothing : html` at ${speed(speedRpm)}`},
          ${unbalance(permissibleGmm)}; hatched around it: the same error, inside which nobody can tell: measure again.`
    }
    ${has.predicted ? say`Cross with a disk: what is predicted after the correction.` : nothing}
    ${has.tracks > 0 ? html`Outer band: where it can be corrected, what is set there now filled, what is to be kept clear hatched.` : nothing}
    ${has.tracks > TRACKS_MAX ? html`${has.tracks - TRACKS_MAX} more places to correct it are listed below.` : nothing}
    ${has.own && own !== undefined ? html`Square: what bench spindle and adapter contributed, ${unbalance(own.gmm)}, from the bench spindle’s mark.` : nothing}
  </p>`;
}
