// The tool room: results as they came, what has to be done, whether the benches are to be believed, what methods achieve.
import type { Instant } from '../../../shared/time.ts';
import type { RecentResult, ToolRoomView } from '../../../shared/tool-room.ts';
import type { Floor } from '../../rules/index.ts';
import { achievedRows } from './achieved-rows.ts';
import { benchView } from './bench-view.ts';
import { defined } from './defined.ts';
import { measurementView } from './measurement-view.ts';
import { workRows } from './work-rows.ts';

export const RECENT_RESULTS_MAX = 100;

export function toolRoomView(floor: Floor, now: Instant, invented: boolean): ToolRoomView {
  return {
    now,
    invented,
    results: recentResults(floor),
    work: workRows(floor),
    benches: [...floor.benches.values()]
      .toSorted((a, b) => (a.bench < b.bench ? -1 : 1))
      .map((bench) => benchView(floor, bench, now)),
    achieved: achievedRows(floor),
  };
}

/** By their arrival, newest first. */
function recentResults(floor: Floor): RecentResult[] {
  return [...floor.assemblies.values()]
    .flatMap((assembly) => assembly.measurements.map((measurement) => ({ assembly, measurement })))
    .toSorted((a, b) => b.measurement.position - a.measurement.position)
    .slice(0, RECENT_RESULTS_MAX)
    .map(({ assembly, measurement }) => ({
      assemblyId: assembly.assemblyId,
      measurement: measurementView(floor, assembly, measurement),
      ...defined({ worse: measurement.worse }),
    }));
}
