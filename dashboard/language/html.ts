// Lit's own template tags, with the texts of a template in the language spoken: a template is written in English, and told once.
import { html as litHtml, svg as litSvg, type SVGTemplateResult, type TemplateResult } from 'lit';
import { ENGLISH, languageSpoken, textOf } from '../../shared/language/index.ts';
import { toldTemplate } from './template-runs.ts';

interface Told {
  readonly strings: TemplateStringsArray;
  readonly order: readonly number[];
}

const toldOnes = new WeakMap<TemplateStringsArray, Told>();

export function html(strings: TemplateStringsArray, ...values: readonly unknown[]): TemplateResult<1> {
  if (languageSpoken() === ENGLISH) return litHtml(strings, ...values);
  const told = toldOf(strings);
  return litHtml(told.strings, ...told.order.map((slot) => values[slot]));
}

export function svg(strings: TemplateStringsArray, ...values: readonly unknown[]): SVGTemplateResult {
  if (languageSpoken() === ENGLISH) return litSvg(strings, ...values);
  const told = toldOf(strings);
  return litSvg(told.strings, ...told.order.map((slot) => values[slot]));
}

/** Lit knows a template by its list of strings: the same one each time. */
function toldOf(strings: TemplateStringsArray): Told {
  const known = toldOnes.get(strings);
  if (known !== undefined) return known;
  const { strings: parts, order } = toldTemplate(strings, textOf);
  const told = { strings: Object.assign([...parts], { raw: parts }), order };
  toldOnes.set(strings, told);
  return told;
}
