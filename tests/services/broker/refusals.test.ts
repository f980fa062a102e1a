// Whoever is turned away is counted; the log is not filled by it.
import { expect, test } from 'vitest';
import { quoted, RefusalReports, type Refusal } from '../../../services/broker/refusals.ts';

test('beyond so many per second refusals are counted and told as a number', () => {
  const told: Refusal[] = [];
  const reports = new RefusalReports(3, (refusal) => void told.push(refusal));
  const wrong: Refusal = { reason: 'wrong-credential', detail: 'from 192.0.2.1' };
  for (let n = 0; n < 10; n++) reports.add(wrong, 5_000 + n);
  expect(told).toEqual([wrong, wrong, wrong]);
  reports.add(wrong, 6_000);
  expect(told.slice(3)).toEqual([{ reason: 'reports-left-out', detail: '7 more within a second' }, wrong]);
  reports.add(wrong, 7_500);
  expect(told).toHaveLength(6);
  expect(reports.count).toBe(12);
});

test('words of a device are quoted and cut', () => {
  expect(quoted('a\r\nlevel=fatal \u001b[31m')).toBe('"a\\r\\nlevel=fatal \\u001b[31m"');
  expect(quoted('x'.repeat(500))).toHaveLength(123);
});
