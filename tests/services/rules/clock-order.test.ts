// A bench's clock that contradicts the order of arrival never hides a measurement that fails, nor undoes one. U_per is 1.592
// g·mm (ISO 21940-11: 1.2 kg, G 2.5, 18,000 rpm); which message counts where clocks disagree is common practice, no source.
import { expect, test } from 'vitest';
import { measurementInForceOf } from '../../../services/rules/index.ts';
import { play } from './play.ts';

const CLOCK = 'this result tells an earlier time than one that came before it';

test.each([
  [
    'set back between two builds: the build that came last is the newest, and its failing result is held',
    `
    day 11 07:00 build  A-1 build b1 told day 11 07:00
    day 11 07:10 result A-1 build b1 0.5 g·mm told day 11 07:10
    day 11 08:00 build  A-1 build b2 told day 3 08:00   => remark A-1: build b2 tells an earlier time than one that came before it; it counts as the newer: is the clock of bench-1 set?
    day 11 08:10 result A-1 build b2 5.0 g·mm told day 3 08:10   => hold A-1 residual-exceeds
    day 11 08:20 result A-1 build b2 0.5 g·mm told day 3 08:20   => released A-1 residual-exceeds`,
  ],
  [
    'set back and the build never declared: its failing result is held',
    `
    day 11 07:00 build  A-1 build b1 told day 11 07:00
    day 11 07:10 result A-1 build b1 0.5 g·mm told day 11 07:10
    day 11 08:10 result A-1 build b2 5.0 g·mm told day 3 08:10   => hold A-1 residual-exceeds`,
  ],
  [
    'set back between two results of a build: the failing one is held and its time is remarked',
    `
    07:00 build  A-1 told 07:00
    09:00 result A-1 0.5 g·mm told 09:00
    09:10 result A-1 5.0 g·mm told 08:00   => remark A-1: ${CLOCK}; it counts all the same: is the clock of bench-1 set? => hold A-1 residual-exceeds
    09:20 result A-1 0.5 g·mm told 08:10   => released A-1 residual-exceeds`,
  ],
  [
    'a result that passes and may be old does not undo one that fails, until the clock is certain',
    `
    07:00 build  A-1 told 07:00
    09:00 result A-1 5.0 g·mm told 09:00   => hold A-1 residual-exceeds
    09:10 result A-1 0.5 g·mm told 06:10   => remark A-1: ${CLOCK}; it is on record, and the other, which is worse, stands: is the clock of bench-1 set?
    09:11 result A-1 0.5 g·mm told 06:11
    09:12 result A-1 0.5 g·mm told 06:12   => remark A-1: ${CLOCK}; it is on record, and the other, which is worse, stands: is the clock of bench-1 set? => remark bench-1: the clock of bench-1 was set back by 3 h: what it told since was taken for old; from now on it counts by the new setting
    09:13 result A-1 0.5 g·mm told 06:13   => released A-1 residual-exceeds`,
  ],
  [
    'sent late by the same start: the number proves it, it is shown as late and changes nothing',
    `
    07:00 build  A-1 told 07:00
    09:00 result A-1 0.5 g·mm told 09:00 boot b sequence 9
    09:10 result A-1 5.0 g·mm told 08:00 boot b sequence 8   => remark A-1: this result came after a later one; it is on record and does not replace it`,
  ],
  [
    'numbered by the same start: a clock set back in between says nothing against the number',
    `
    07:00 build  A-1 told 07:00
    09:00 result A-1 5.0 g·mm told 09:00 boot b sequence 8   => hold A-1 residual-exceeds
    09:10 result A-1 0.5 g·mm told 05:00 boot b sequence 9   => released A-1 residual-exceeds`,
  ],
  [
    'cut off for hours: what waited comes in its order, and the last of it stands',
    `
    07:00 build  A-1 told 07:00
    12:00 result A-1 5.0 g·mm told 08:00   => hold A-1 residual-exceeds
    12:00 result A-1 2.5 g·mm told 09:00   => again A-1 residual-exceeds
    12:00 result A-1 0.5 g·mm told 10:00   => released A-1 residual-exceeds`,
  ],
  [
    'cut off while another bench measured it anew: the late result is shown as late',
    `
    07:00 build  A-1 told 07:00 by bench-2
    09:00 result A-1 0.5 g·mm told 09:00 by bench-1
    12:00 result A-1 5.0 g·mm told 08:00 by bench-2   => remark A-1: this result came after a later one; it is on record and does not replace it`,
  ],
  [
    'set back while another bench measured it before: the bench was heard meanwhile, so its result counts',
    `
    07:00 build  A-1 told 07:00 by bench-2
    09:00 result A-1 0.5 g·mm told 09:00 by bench-1
    11:50 result A-2 0.5 g·mm told 11:50 by bench-2
    12:00 result A-1 5.0 g·mm told 08:00 by bench-2   => hold A-1 residual-exceeds`,
  ],
  [
    'cut off, started again and then emptied: the start does not make what waited new',
    `
    07:00 build  A-1 told 07:00 by bench-2
    09:00 result A-1 0.5 g·mm told 09:00 by bench-1
    12:00 birth  bench-2 told 12:00
    12:00 result A-1 5.0 g·mm told 08:00 by bench-2   => remark A-1: this result came after a later one; it is on record and does not replace it`,
  ],
] as const)('%s', (_, story) => {
  play(story);
});

test('a build that is declared again as it was keeps its place', () => {
  const { floor } = play(`
    07:00 build  A-1 build b1 told 07:00
    07:30 build  A-1 build b2 told 07:30
    07:40 result A-1 build b2 0.5 g·mm told 07:40
    07:50 build  A-1 build b1 told 07:50            => remark A-1: build b1 came after b2, which is newer; it is on record
  `);
  const assembly = floor.assemblies.get('A-1');
  expect(assembly?.builds.map(({ buildId }) => buildId)).toEqual(['b1', 'b2']);
  expect(assembly === undefined ? undefined : measurementInForceOf(assembly)?.buildId).toBe('b2');
});
