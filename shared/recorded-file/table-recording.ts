// A table as text, as recorders export it: one row for each instant, one column for each channel.
import { say } from '../language/index.ts';
import { WINDOW_SAMPLES_MIN } from '../vibration/index.ts';
import { STANDARD_GRAVITY_MS2, unitKind, type Column } from './column-units.ts';
import { CHANNELS_MAX, SAMPLES_MAX } from './limits.ts';
import { plainTextOf } from './plain-text.ts';
import {
  refused,
  type ColumnUnit,
  type FileChannel,
  type ReadingChoices,
  type RecordedFile,
} from './recorded-channel.ts';
import { tableHeadOf, type TableHead } from './table-head.ts';
import { linesFrom, readRows, type TableRows } from './table-rows.ts';
import { timeAxisOf } from './time-column.ts';

const UNIT_SHOWN: Readonly<Record<ColumnUnit, string>> = {
  g: 'g',
  mg: 'mg',
  'm/s2': 'm/s²',
  'mm/s2': 'mm/s²',
  mV: 'mV',
  V: 'V',
};

export function tableRecording(bytes: Uint8Array, choices: ReadingChoices): RecordedFile {
  const text = plainTextOf(bytes);
  if (text.kind === 'other') return refused(text.why);
  const head = tableHeadOf(text.bytes, text.from, choices.decimalMark);
  if (head.kind === 'no head') return refused(head.words, head.line);
  const parts = partsOf(head);
  if (parts.channels.length === 0) return refused(noChannelWords(head), head.linesBefore + 1);
  if (parts.channels.length > CHANNELS_MAX)
    return refused(
      say`It has ${parts.channels.length} channels; expected at most ${CHANNELS_MAX}. Export fewer of them.`,
    );
  const rows = linesFrom(text.bytes, head.from);
  if (rows * parts.channels.length > SAMPLES_MAX)
    return refused(
      say`It has ${rows * parts.channels.length} samples over its channels; expected at most ${SAMPLES_MAX}. Cut it into parts, or export fewer channels.`,
    );
  const wanted = new Set([...parts.channels, ...(parts.time === undefined ? [] : [parts.time])]);
  const read = readRows(text.bytes, head, wanted, parts.time ?? -1);
  if (read.faults.length > 0) return { kind: 'refused', faults: read.faults, faultsMore: read.faultsMore };
  return channelsOf(head, parts, read, choices, text.remarks);
}

interface Parts {
  /** Index of the column of time. */
  readonly time: number | undefined;
  readonly channels: readonly number[];
}

/** Without any head the first of several columns may be the time: that is decided by its steps, later. */
function partsOf({ columns }: TableHead): Parts {
  const nameless = columns.every(({ name }) => name === '');
  if (nameless) {
    const all = columns.map((_, i) => i);
    return columns.length === 1 ? { time: undefined, channels: [0] } : { time: 0, channels: all.slice(1) };
  }
  const time = columns.findIndex(({ is }) => is.kind === 'time');
  const channels = columns.flatMap(({ is }, i) =>
    is.kind === 'acceleration' || is.kind === 'volts' || is.kind === 'no unit' ? [i] : [],
  );
  return { time: time < 0 ? undefined : time, channels };
}

function noChannelWords({ columns }: TableHead): string {
  const told = columns.map(({ name, unit }) => (unit === '' || unit === name ? name : `${name} in ${unit}`)).join(', ');
  return say`no column of acceleration was found among ${told}. Expected one in g or m/s², or in volts with the sensor’s sensitivity`;
}

function channelsOf(
  head: TableHead,
  parts: Parts,
  rows: TableRows,
  choices: ReadingChoices,
  before: readonly string[],
): RecordedFile {
  const rate = rateOf(head, parts, rows, choices);
  if ('words' in rate) return refused(rate.words, rate.line);
  const { from, to, sampleRateHz, remarks } = rate;
  if (to - from < WINDOW_SAMPLES_MIN)
    return refused(say`It has ${to - from} rows in a stretch without gaps; expected at least ${WINDOW_SAMPLES_MIN}.`);
  const channels = parts.channels.map((at): FileChannel => {
    const column = head.columns[at];
    const scale = scaleOf(column, choices);
    const values = (rows.columns[at] ?? new Float64Array()).slice(from, to);
    if (scale.factor !== 1) for (let i = 0; i < values.length; i += 1) values[i] = (values[i] ?? 0) * scale.factor;
    return {
      name: (column?.name ?? '') === '' ? say`column ${at + 1}` : (column?.name ?? ''),
      accelerationMS2: values,
      sampleRateHz,
      scaled: scale.scaled,
      unitWords: scale.words,
    };
  });
  return {
    kind: 'read',
    format: 'table',
    channels,
    remarks: [...before, ...rows.remarks, ...remarks, ...leftOut(head, parts)],
  };
}

type Rate =
  | { from: number; to: number; sampleRateHz: number; remarks: readonly string[] }
  | { words: string; line?: number };

const NO_RATE = say`The file does not say how fast it was sampled: it has no column of time and names no sample rate. Say the sample rate in Hz`;
/** A rate that is told and one that the file says are the same up to this share. */
const RATES_ALIKE = 0.001;

function rateOf(head: TableHead, { time }: Parts, rows: TableRows, choices: ReadingChoices): Rate {
  const whole = { from: 0, to: rows.count };
  const seconds = time === undefined ? undefined : rows.columns[time];
  const told = choices.sampleRateHz ?? head.sampleRateHz;
  if (seconds === undefined || time === undefined)
    return told === undefined ? { words: NO_RATE } : { ...whole, sampleRateHz: told, remarks: [] };
  const is = head.columns[time]?.is;
  const secondsPer = is?.kind === 'time' ? is.secondsPer : 1;
  if (head.columns[time]?.name === '' && isCount(seconds))
    return told === undefined
      ? { words: say`${NO_RATE} (the first column only counts the rows)` }
      : { ...whole, sampleRateHz: told, remarks: [say`The first column counts the rows.`] };
  const axis = timeAxisOf(
    seconds.map((value) => value * secondsPer),
    Number.isFinite(rows.timePower) ? 10 ** rows.timePower * secondsPer : 0,
  );
  if (axis.kind === 'fault') return { words: axis.words, line: head.linesBefore + 1 + axis.row };
  const { from, to, sampleRateHz, remarks } = axis;
  if (told === undefined || Math.abs(told / sampleRateHz - 1) <= RATES_ALIKE)
    return { from, to, sampleRateHz: told ?? sampleRateHz, remarks };
  const kept = choices.sampleRateHz;
  const steps = Number(sampleRateHz.toPrecision(6));
  const other =
    kept === undefined
      ? say`The time steps make ${steps} Hz, the head of the file says ${told} Hz: the time steps count.`
      : say`The time steps make ${steps} Hz, told was ${told} Hz: what was told counts.`;
  return { from, to, sampleRateHz: kept ?? sampleRateHz, remarks: [...remarks, other] };
}

/** 0, 1, 2 … or 1, 2, 3 …: the number of the row, not its time. */
function isCount(values: Float64Array): boolean {
  const first = values[0] ?? 0;
  return (first === 0 || first === 1) && values.every((value, i) => value === first + i);
}

interface Scale {
  readonly factor: number;
  readonly scaled: boolean;
  readonly words: string;
}

function scaleOf(column: Column | undefined, { unit, sensitivityMvPerG }: ReadingChoices): Scale {
  const is = unit === undefined ? column?.is : unitKind(unit);
  const shown = unit === undefined ? (column?.unit ?? '') : UNIT_SHOWN[unit];
  const fromHead = unit === undefined;
  if (is?.kind === 'acceleration') {
    const words = fromHead ? say`${shown}, as the head of the table says` : say`${shown}, as told`;
    return { factor: is.ms2Per, scaled: true, words };
  }
  if (is?.kind !== 'volts')
    return { factor: 1, scaled: false, words: say`not known: levels are relative until the unit is told` };
  if (sensitivityMvPerG === undefined)
    return {
      factor: 1,
      scaled: false,
      words: say`${shown}: levels are relative until the sensor’s sensitivity is told`,
    };
  const factor = (is.mvPer / sensitivityMvPerG) * STANDARD_GRAVITY_MS2;
  const words = fromHead
    ? say`${shown}, as the head of the table says, at ${sensitivityMvPerG} mV per g as told`
    : say`${shown}, as told, at ${sensitivityMvPerG} mV per g as told`;
  return { factor, scaled: true, words };
}

function leftOut({ columns }: TableHead, { time, channels }: Parts): readonly string[] {
  const others = columns.filter((_, i) => i !== time && !channels.includes(i)).filter(({ is }) => is.kind !== 'count');
  if (others.length === 0) return [];
  const told = others.map(({ name, unit }) => (unit === '' || unit === name ? name : `${name} (${unit})`)).join(', ');
  return [say`Left out, because it is no acceleration: ${told}.`];
}
