// Units that a device announces at birth against those in which its messages are read here: a contradiction is said at once.
import { say } from '../../shared/language/index.ts';
import type { Birth } from '../../shared/messages/index.ts';

/** A name of a channel by what stands in it, and the units (UCUM, or as people write them) in which it is read. */
const READ_IN: readonly (readonly [RegExp, readonly string[]])[] = [
  [/residual|unbalance|amount/i, ['g.mm', 'g·mm', 'gmm', 'g*mm', 'g mm']],
  [/angle|phase/i, ['deg', '°']],
  [/mass|weight/i, ['kg']],
  [/speed|rpm/i, ['{rev}/min', 'rpm', '1/min', 'min-1']],
  [/acceleration/i, ['m/s2', 'm/s²', 'm/s^2']],
  [/velocity|overall|synchronous/i, ['mm/s']],
];

const plain = (unit: string): string => unit.trim().toLowerCase();

export function unitRemarks(device: string, { channels = [] }: Birth): readonly string[] {
  return channels.flatMap(({ name, unit }) => {
    const [, units] = READ_IN.find(([pattern]) => pattern.test(name)) ?? [];
    if (units === undefined || units.some((known) => plain(known) === plain(unit))) return [];
    return [
      say`${device}: it announces channel ${name} in ${unit}; its messages are read in ${units[0] ?? ''}: does it convert them?`,
    ];
  });
}
