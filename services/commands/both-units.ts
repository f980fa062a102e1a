// Words with metric amounts in them, for whoever reads in ounces and inches: both stand there, nothing is taken out.
import { showValue, type QuantityName, type UnitSystem } from './value-units.ts';

/** A number and its unit as advice writes them, or a diameter. */
const AMOUNT = /(Ø)?(\d+(?:\.\d+)?(?:e[+-]\d+)?)(?: (g·mm²|g·mm|mm|kg|g)(?![\wµ·²³/]))?/gu;

const QUANTITY_OF: Readonly<Record<string, QuantityName>> = {
  'g·mm²': 'couple',
  g·mm: 'unbalance',
  mm: 'length',
  g: 'small mass',
  kg: 'mass',
};

/** "12 g·mm" becomes "12 g·mm / 0.01667 oz·in". */
export function inBothUnits(words: string, system: UnitSystem): string {
  if (system === 'metric') return words;
  return words.replaceAll(AMOUNT, (told: string, isDiameter: string | undefined, digits: string, unit?: string) => {
    const quantity = isDiameter === undefined ? QUANTITY_OF[unit ?? ''] : 'length';
    if (quantity === undefined) return told;
    const metric = isDiameter === undefined || unit !== undefined ? told : `${told} mm`;
    return `${metric} / ${showValue(quantity, Number(digits), system)}`;
  });
}
