// An override that was kept down, on the page: by the plant's clock, as all else on it.
import { expect, test } from 'vitest';
import { instantsIn } from '../../../dashboard/headroom/headroom-table.ts';
import { overrideKeptWords } from '../../../shared/headroom-words.ts';

test('its instants are in the plant’s zone, across midnight too', () => {
  const words = overrideKeptWords(
    {
      state: 'kept',
      at: Date.UTC(2031, 2, 5, 12),
      stepAt: Date.UTC(2031, 2, 4, 23, 10),
      stepPosition: 1,
      fromPercent: 100,
      toPercent: 75,
      rise: { kind: 'hold', at: Date.UTC(2031, 2, 4, 22, 50), holdId: 'H-1-1' },
      goneAt: Date.UTC(2031, 2, 31, 6),
      goneBy: 'hold-ended',
      cutHours: 36,
      awayHours: 9,
    },
    instantsIn('Europe/Berlin'),
  );
  expect(words).toBe(
    'The override was turned down from 100 % to 75 % on 5 Mar 2031 00:10, near the hold H-1-1 for its vibration (4 Mar 2031 23:50). That hold ended on 31 Mar 2031 08:00, and the override was not turned up again: 36.0 h in the cut since, 9.0 h of it given away.',
  );
});
