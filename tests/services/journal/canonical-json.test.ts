// One way to write JSON, against the examples that its standard prints.
import { expect, test } from 'vitest';
import { canonicalJson } from '../../../services/journal/canonical-json.ts';

test('canonical JSON: the examples of RFC 8785, sections 3.2.2 and 3.2.3', () => {
  const numbers = [Number('333333333.33333329'), 1e30, 4.5, 2e-3, 0.000000000000000000000000001];
  const literals = [null, true, false];
  const said = canonicalJson({ numbers, string: '€$\u000F\nA\'B"\\\\"/', literals });
  expect(said).toBe(
    '{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],"string":"€$\\u000f\\nA\'B\\"\\\\\\\\\\"/"}',
  );
  const sorted = canonicalJson({
    '\u20ac': 'Euro Sign',
    '\r': 'Carriage Return',
    '\ufb33': 'Hebrew Letter Dalet With Dagesh',
    '1': 'One',
    '\ud83d\ude00': 'Emoji: Grinning Face',
    '\u0080': 'Control',
    '\u00f6': 'Latin Small Letter O With Diaeresis',
  });
  expect(Object.values(JSON.parse(sorted) as object)).toEqual(
    expect.arrayContaining(['One', 'Carriage Return', 'Control', 'Euro Sign']),
  );
  const order = ['Carriage Return', 'One', 'Control', 'Latin Small', 'Euro Sign', 'Emoji', 'Hebrew'].map((word) =>
    sorted.indexOf(word),
  );
  expect(order).toEqual(order.toSorted((a, b) => a - b));
});
