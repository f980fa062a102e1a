// Reads a file and analyses one of its channels: what the worker does, and what it answers. Without a browser.
import {
  analyseChannel,
  readRecordedFile,
  tooLargeWords,
  type ChannelAnalysis,
  type ChannelQuestion,
  type FileChannel,
  type ReadingChoices,
  type RecordedFile,
  type RecordingFault,
} from '../../shared/recorded-file/index.ts';

export interface RecordingAsked {
  readonly file: Blob;
  readonly choices: ReadingChoices;
  readonly question: ChannelQuestion;
  /** Which channel, from 0; one that the file does not have is its first. */
  readonly channel: number;
}

export interface RecordingRead {
  readonly kind: 'read';
  readonly format: Extract<RecordedFile, { kind: 'read' }>['format'];
  readonly remarks: readonly string[];
  readonly channels: readonly string[];
  readonly channel: number;
  readonly question: ChannelQuestion;
  readonly analysis: ChannelAnalysis;
  readonly fullScaleMS2: number | undefined;
  readonly samples: Float64Array;
}

export type RecordingAnswer =
  | RecordingRead
  | { readonly kind: 'refused'; readonly faults: readonly RecordingFault[]; readonly faultsMore: number };

/** Keeps the file read last: another channel or another speed does not read it again. */
export class RecordingReader {
  #kept: { readonly file: Blob; readonly key: string; readonly read: RecordedFile } | undefined;

  async answer(asked: RecordingAsked, onWindow: (done: number, of: number) => void): Promise<RecordingAnswer> {
    const tooLarge = tooLargeWords(asked.file.size);
    if (tooLarge !== undefined) return { kind: 'refused', faults: [{ words: tooLarge }], faultsMore: 0 };
    const read = await this.#read(asked);
    if (read.kind === 'refused') return read;
    const at = asked.channel < read.channels.length ? asked.channel : 0;
    const channel = read.channels[at];
    if (channel === undefined) throw new Error('a file that was read has a channel');
    return answerOf(read, at, channel, asked.question, analyseChannel(channel, asked.question, onWindow));
  }

  async #read({ file, choices }: RecordingAsked): Promise<RecordedFile> {
    const key = JSON.stringify(choices);
    if (this.#kept?.file === file && this.#kept.key === key) return this.#kept.read;
    const read = readRecordedFile(new Uint8Array(await file.arrayBuffer()), choices);
    this.#kept = { file, key, read };
    return read;
  }
}

function answerOf(
  { format, remarks, channels }: Extract<RecordedFile, { kind: 'read' }>,
  at: number,
  channel: FileChannel,
  question: ChannelQuestion,
  analysis: ChannelAnalysis,
): RecordingRead {
  return {
    kind: 'read',
    format,
    remarks,
    channels: channels.map(({ name }) => name),
    channel: at,
    question,
    analysis,
    fullScaleMS2: channel.scaled ? channel.fullScaleMS2 : undefined,
    // A copy: what is handed to the page leaves the worker.
    samples: channel.accelerationMS2.slice(),
  };
}
