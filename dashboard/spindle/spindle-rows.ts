// The rows of a spindle's lists under names of their own.
import type { SpindleView } from '../../shared/views.ts';

export type LimitView = SpindleView['limits'][number];
export type LoadRecord = SpindleView['loads'][number];
