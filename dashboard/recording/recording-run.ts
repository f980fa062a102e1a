// Asks the worker and keeps its answer, as a reactive controller: a new question ends the one before it.
import type { ReactiveController, ReactiveControllerHost } from 'lit';
import { retell, say } from '../../shared/language/index.ts';
import type { RecordingAnswer, RecordingAsked } from './recording-reading.ts';
import type { WorkAsked, WorkSaid } from './recording-worker.ts';

export type RunState =
  | { readonly kind: 'nothing' }
  | { readonly kind: 'working'; readonly done: number; readonly of: number }
  | { readonly kind: 'answered'; readonly answer: RecordingAnswer }
  | { readonly kind: 'failed'; readonly why: string };

/** Names that the reading gave to channels without one; those of the file stay as they are. */
const GIVEN_NAME = /^(?:channel|column) \d+$/;
const nameTold = (name: string): string => (GIVEN_NAME.test(name) ? retell(name) : name);

function named(answer: RecordingAnswer): RecordingAnswer {
  if (answer.kind !== 'read') return answer;
  const { analysis, channels } = answer;
  return { ...answer, channels: channels.map(nameTold), analysis: { ...analysis, name: nameTold(analysis.name) } };
}

export class RecordingRun implements ReactiveController {
  state: RunState = { kind: 'nothing' };
  readonly #host: ReactiveControllerHost;
  #worker: Worker | undefined;
  #file: Blob | undefined;
  #number = 0;

  constructor(host: ReactiveControllerHost) {
    this.#host = host;
    host.addController(this);
  }

  hostDisconnected(): void {
    this.#stop();
    if (this.state.kind === 'working') this.state = { kind: 'nothing' };
  }

  ask(asked: RecordingAsked): void {
    // A worker in the middle of a long file hears nothing: it is ended and another one begins.
    if (this.state.kind === 'working') this.#stop();
    this.#worker ??= this.#started();
    this.#number += 1;
    const { file, ...rest } = asked;
    const again = file === this.#file;
    this.#file = file;
    this.#worker.postMessage({ number: this.#number, ...rest, ...(again ? {} : { file }) } satisfies WorkAsked);
    this.#set({ kind: 'working', done: 0, of: 0 });
  }

  #started(): Worker {
    const worker = new Worker(new URL('./recording-worker.ts', import.meta.url), { type: 'module' });
    worker.addEventListener('message', (event: MessageEvent<WorkSaid>) => this.#hear(event.data));
    worker.addEventListener('error', () => {
      this.#stop();
      this.#set({ kind: 'failed', why: say`The part of this page that reads recordings did not start.` });
    });
    return worker;
  }

  #hear(said: WorkSaid): void {
    if (said.number !== this.#number) return;
    switch (said.kind) {
      case 'window':
        this.#set({ kind: 'working', done: said.done, of: said.of });
        return;
      case 'answer':
        this.#set({ kind: 'answered', answer: named(said.answer) });
        return;
      case 'failed':
        this.#set({ kind: 'failed', why: retell(said.why) });
        return;
    }
  }

  #stop(): void {
    this.#worker?.terminate();
    this.#worker = undefined;
    this.#file = undefined;
  }

  #set(state: RunState): void {
    this.state = state;
    this.#host.requestUpdate();
  }
}
