// All benches, in the order in which they run.
import type { Bench } from './figure.ts';
import { ackLatency } from './figures/ack-latency.ts';
import { adviceLatency } from './figures/advice-latency.ts';
import { brokerRatio } from './figures/broker-ratio.ts';
import { browserBusy } from './figures/browser-busy.ts';
import { browserHold } from './figures/browser-hold.ts';
import { browserMemory } from './figures/browser-memory.ts';
import { browserPaint } from './figures/browser-paint.ts';
import { browserYear } from './figures/browser-year.ts';
import { fleetGrowth } from './figures/fleet-growth.ts';
import { gateLatency } from './figures/gate-latency.ts';
import { holdLatency } from './figures/hold-latency.ts';
import { ingestRatio } from './figures/ingest-ratio.ts';
import { replayRate } from './figures/replay-rate.ts';
import { screwSearch } from './figures/screw-search.ts';
import { standingLoad } from './figures/standing-load.ts';
import { startTime } from './figures/start-time.ts';
import { tryOut } from './figures/try-out.ts';
import { waveformSummary } from './figures/waveform-summary.ts';
import { windowLoad } from './figures/window-load.ts';
import { windowPacking } from './figures/window-packing.ts';

export const BENCHES: readonly Bench[] = [
  ingestRatio,
  ackLatency,
  holdLatency,
  gateLatency,
  adviceLatency,
  standingLoad,
  startTime,
  brokerRatio,
  replayRate,
  fleetGrowth,
  screwSearch,
  tryOut,
  waveformSummary,
  windowLoad,
  windowPacking,
  browserPaint,
  browserBusy,
  browserMemory,
  browserYear,
  browserHold,
];
