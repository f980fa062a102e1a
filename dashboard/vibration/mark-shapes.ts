// The small signs over the lines of a spectrum: each has a form of its own, so that nobody has to tell colours apart.
import type { SVGTemplateResult } from 'lit';
import { svg } from '../language/html.ts';
import { say } from '../../shared/language/index.ts';
import type { MarkShape } from './frequency-marks.ts';

/** `tacho`: one mark of the tacho, in a waveform. */
export type SignShape = MarkShape | 'tacho';

/** About 0, 0, some 10 px wide. */
export function sign(shape: SignShape): SVGTemplateResult {
  switch (shape) {
    case 'order':
      return svg`<path class="sign filled" d="M-5 -4 H5 L0 5 Z" />`;
    case 'teeth':
      return svg`<path class="sign" d="M-6 4 L-3 -4 L0 4 L3 -4 L6 4" />`;
    case 'outer':
      return svg`<circle class="sign" r="5" />`;
    case 'inner':
      return svg`<circle class="sign" r="5" /><circle class="sign filled" r="1.8" />`;
    case 'rolling':
      return svg`<circle class="sign" r="5" /><path class="sign filled" d="M0 -5 A5 5 0 0 1 0 5 Z" />`;
    case 'cage':
      return svg`<rect class="sign" x="-4.5" y="-4.5" width="9" height="9" />`;
    case 'tacho':
      return svg`<path class="sign" d="M0 5 V-5 H6 L3.5 -2.5 L6 0 H0" />`;
  }
}

export const SIGN_WORDS: Readonly<Record<SignShape, string>> = {
  order: say`shaft order`,
  teeth: say`tooth passing`,
  outer: say`outer race`,
  inner: say`inner race`,
  rolling: say`rolling element, twice its spin`,
  cage: say`cage`,
  tacho: say`tacho mark`,
};
