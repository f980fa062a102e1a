// The rows of a spindle's lists under names of their own.
import type { SpindleView } from '../../shared/views.ts';

export type LimitView = SpindleView['limits'][number];
export type LoadRecord = SpindleView['loads'][number];
export type SeverityBin = SpindleView['severity']['bins'][number];
export type SeverityChange = SpindleView['severity']['history'][number];
