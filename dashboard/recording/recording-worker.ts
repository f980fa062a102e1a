// Reads and analyses recordings beside the page, so that it goes on answering to whoever uses it.
import { RecordingReader, type RecordingAnswer, type RecordingAsked } from './recording-reading.ts';

export interface WorkAsked extends Omit<RecordingAsked, 'file'> {
  readonly number: number;
  /** Absent: the same as before. */
  readonly file?: Blob;
}

export type WorkSaid =
  | { readonly number: number; readonly kind: 'window'; readonly done: number; readonly of: number }
  | { readonly number: number; readonly kind: 'answer'; readonly answer: RecordingAnswer }
  | { readonly number: number; readonly kind: 'failed'; readonly why: string };

const reader = new RecordingReader();
let file: Blob = new Blob();

addEventListener('message', (event: MessageEvent<WorkAsked>) => void answer(event.data));

async function answer({ number, file: fresh, ...asked }: WorkAsked): Promise<void> {
  file = fresh ?? file;
  try {
    const told = await reader.answer({ ...asked, file }, (done, of) => tell({ number, kind: 'window', done, of }));
    tell({ number, kind: 'answer', answer: told }, told.kind === 'read' ? [told.samples.buffer as ArrayBuffer] : []);
  } catch (fault) {
    tell({ number, kind: 'failed', why: fault instanceof Error ? fault.message : String(fault) });
  }
}

function tell(said: WorkSaid, handedOver: Transferable[] = []): void {
  self.postMessage(said, { transfer: handedOver });
}
