// How the polar picture is drawn: ink for what counts now, slate for what came before, hatching for where nobody can tell.
import { css, type CSSResultGroup } from 'lit';
import { pictureText, wholePicture } from '../drawing/picture-look.ts';

export const roseLook: CSSResultGroup = [
  pictureText,
  wholePicture,
  css`
    svg {
      max-width: 31rem;
      margin: 0 auto;
    }
    :host([small]) svg {
      max-width: 22rem;
    }
    /* Behind a figure, so that no line goes through it. */
    .behind {
      fill: var(--ground);
      fill-opacity: 0.85;
    }
    .paper {
      fill: none;
      stroke: var(--paper-line);
    }
    .permissible {
      fill: none;
      stroke: var(--ink);
      stroke-width: 2;
    }
    .path {
      fill: none;
      stroke: var(--slate);
      stroke-width: 1.4;
      stroke-dasharray: 4 3;
    }
    .vector {
      stroke: var(--slate);
      stroke-width: 1.2;
    }
    .vector.newest {
      stroke: var(--ink);
      stroke-width: 2.6;
    }
    .end {
      fill: var(--ground);
      stroke: var(--slate);
      stroke-width: 1.6;
    }
    .end.newest {
      fill: var(--ink);
      stroke: var(--ink);
    }
    .end.doubt {
      stroke-dasharray: 2 1.6;
    }
    .disk {
      fill: var(--ink);
      fill-opacity: 0.1;
      stroke: var(--ink);
      stroke-width: 1;
    }
    .foretold {
      fill: none;
      stroke: var(--ink);
      stroke-width: 1.4;
    }
    .foretold.way {
      stroke-dasharray: 6 3;
    }
    .hatch path {
      stroke: var(--slate);
      stroke-width: 0.9;
    }
    .edge {
      fill: none;
      stroke: var(--slate);
      stroke-width: 0.8;
    }
    .keep-clear {
      stroke: var(--ink);
      stroke-width: 0.8;
    }
    .dense path {
      stroke: var(--ink);
      stroke-width: 1.5;
    }
    .track {
      fill: none;
      stroke: var(--rule);
    }
    .place {
      fill: var(--ground);
      stroke: var(--ink);
      stroke-width: 1.2;
    }
    .place.now {
      fill: var(--ink);
    }
    .own {
      fill: var(--ground);
      stroke: var(--slate);
      stroke-width: 1.2;
    }
  `,
];
