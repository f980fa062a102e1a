// A day of loads of three invented assemblies in two invented spindles, from which the rules learned; and a hold that moves after it.

/** 1×, mm/s, of three invented assemblies in two spindles: the more residual, the more, and unlike from pair to pair. */
const USUAL: readonly (readonly [assembly: string, spindle: string, mmS: number])[] = [
  ['A-1', 'S-1', 0.42],
  ['A-2', 'S-1', 0.6],
  ['A-3', 'S-1', 0.85],
  ['A-1', 'S-2', 0.4],
  ['A-2', 'S-2', 0.62],
  ['A-3', 'S-2', 0.8],
];
const SCATTER = [1, 1.06, 0.95, 1.03, 0.97, 1.09, 0.92, 1.01, 1.05, 0.96];

/** A day of eight loads of each, one every half hour from 06:00 on; the next half hour is 06:00 of day 2. */
export const LEARNED = [
  ...[1, 2, 3].map((n) => `05:00 build A-${n} G40\n05:01 result A-${n} ${n} g·mm`),
  '05:30 limit S-1 1x 1.2 from 1000 to 24000',
  ...Array.from({ length: 48 }, (_, nth) => {
    const [assembly, spindle, usual] = USUAL[nth % USUAL.length] ?? ['A-1', 'S-1', 0.42];
    const oneMmS = usual * (SCATTER[nth % SCATTER.length] ?? 1);
    const at = (more: number): string => {
      const minutes = 6 * 60 + nth * 30 + more;
      const [hours, rest] = [Math.floor(minutes / 60) % 24, minutes % 60];
      return `day ${minutes < 1440 ? 1 : 2} ${String(hours).padStart(2, '0')}:${String(rest).padStart(2, '0')}`;
    };
    return (
      `${at(0)} load ${assembly} in ${spindle} at 18000 rpm\n` +
      `${at(2)} reading ${spindle} overall ${Math.hypot(oneMmS, 0.7).toFixed(4)} 1x ${oneMmS.toFixed(4)} ×6 every 3 min`
    );
  }),
].join('\n');

/** A-1 far off in S-1, then in S-2 as well, while another assembly is as ever in S-1: it is the assembly. */
export const MOVED = `${LEARNED.replace('1x 1.2 ', '1x 9 ')}
        day 2 06:00 load    A-1 in S-1 at 18000 rpm
        day 2 06:02 reading S-1 overall 2.74 1x 2.65 ×6 every 3 min => hold S-1 vibration-unexplained
        day 2 06:30 load    A-2 in S-1 at 18000 rpm
        day 2 06:32 reading S-1 overall 0.92 1x 0.60 ×6 every 3 min
        day 2 07:00 load    A-1 in S-2 at 18000 rpm
        day 2 07:02 reading S-2 overall 2.74 1x 2.65 ×6 every 3 min => hold A-1 vibration-unexplained => released S-1 vibration-unexplained`;
