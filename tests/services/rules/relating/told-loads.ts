// Loads as a setter would write them down: three assemblies in turn in two spindles, and whatever a test says of those after.
import type { Hold } from '../../../../shared/holds.ts';
import type { Entry } from '../../../../shared/entries.ts';
import type { Outcome } from '../../../../shared/outcomes.ts';
import { decide, emptyFloor, evolve, type Floor } from '../../../../services/rules/index.ts';
import { readStory } from '../story.ts';

/** 1× of each assembly in each spindle, mm/s, as its residual and the spindle's own part make it; unlike from pair to pair. */
const USUAL: Readonly<Record<string, number>> = {
  'A-1 S-1': 0.42,
  'A-2 S-1': 0.6,
  'A-3 S-1': 0.85,
  'A-1 S-2': 0.5,
  'A-2 S-2': 0.38,
  'A-3 S-2': 0.95,
};
/** What clampings make of it, load by load. */
const SCATTER = [1, 1.06, 0.95, 1.03, 0.97, 1.09, 0.92, 1.01, 1.05, 0.96];
const REST_MM_S = 0.7;

export const BUILT = ['A-1 1 ', 'A-2 2 ', 'A-3 3 ']
  .map((one) => {
    const [id = '', amount = ''] = one.split(' ');
    return `05:00 build ${id} b1 1.2 kg 18,000 rpm G40\n05:01 result ${id} b1 ${amount} g·mm`;
  })
  .join('\n');

export interface Shown {
  readonly assembly?: string;
  readonly spindle?: string;
  /** Times the usual 1×, and times what is beside it. */
  readonly times?: number;
  readonly restTimes?: number;
  readonly rpm?: number;
  /** Where the sensor tells another speed than the control. */
  readonly sensorRpm?: number;
  readonly cutting?: boolean;
}

/** A load every half hour, six readings each, from one given on. */
export function loadsOf(first: number, shown: readonly Shown[]): string {
  return shown
    .map(
      (
        { assembly = 'A-1', spindle = 'S-1', times = 1, restTimes = 1, rpm = 18_000, sensorRpm = rpm, cutting },
        index,
      ) => {
        const nth = first + index;
        const minutes = 6 * 60 + nth * 30;
        const day = 1 + Math.floor(minutes / 1440);
        const clock = (more: number): string => {
          const of = (minutes % 1440) + more;
          return `day ${day} ${String(Math.floor(of / 60)).padStart(2, '0')}:${String(of % 60).padStart(2, '0')}`;
        };
        const one = (USUAL[`${assembly} ${spindle}`] ?? 0.5) * times * (SCATTER[nth % SCATTER.length] ?? 1);
        const overall = Math.hypot(one, REST_MM_S * restTimes);
        const cut = cutting === undefined ? '' : cutting ? ' cutting' : ' not cutting';
        return (
          `${clock(0)} load ${assembly} in ${spindle} at ${rpm} rpm\n` +
          `${clock(2)} reading ${spindle} at ${sensorRpm} rpm overall ${overall.toFixed(4)} 1x ${one.toFixed(4)}${cut} ×6 every 3 min`
        );
      },
    )
    .join('\n');
}

/** The three assemblies in turn in one spindle, then in the other. */
export const turn = (loads: number, also: Shown = {}): readonly Shown[] =>
  Array.from({ length: loads }, (_, nth) => ({
    assembly: `A-${1 + (nth % 3)}`,
    spindle: nth % 6 < 3 ? 'S-1' : 'S-2',
    ...also,
  }));

export const ORDINARY = turn(48);

export function told(shown: readonly Shown[]): { readonly floor: Floor; readonly outcomes: readonly Outcome[] } {
  return playedOn(`${BUILT}\n${loadsOf(0, [...ORDINARY, ...shown])}`);
}

export function playedOn(story: string): { readonly floor: Floor; readonly outcomes: readonly Outcome[] } {
  const floor = emptyFloor('test');
  const outcomes: Outcome[] = [];
  for (const { drafts } of readStory(story)) {
    for (const draft of drafts) {
      const entry = { ...draft, position: floor.position + 1 } as Entry;
      const made = decide(floor, entry);
      evolve(floor, entry, made);
      outcomes.push(...made);
    }
  }
  return { floor, outcomes };
}

export const unexplained = (floor: Floor): readonly Hold[] =>
  [...floor.holds.values()].filter((hold) => hold.reason === 'vibration-unexplained');

export const inS1 = (assembly: string, also: Shown = {}): Shown => ({ assembly, spindle: 'S-1', ...also });
export const inS2 = (assembly: string, also: Shown = {}): Shown => ({ assembly, spindle: 'S-2', ...also });
