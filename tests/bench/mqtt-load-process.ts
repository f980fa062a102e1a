// The load in a process of its own, so that it does not share a thread with what it measures. Runs from the build.
import { fork, type ChildProcess } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import {
  openLoad,
  type Load,
  type LoadIdentity,
  type LoadPayload,
  type LoadReport,
  type LoadSettings,
} from './mqtt-load.ts';

/** As LoadSettings, in what can be told to another process. */
export interface LoadJob extends Pick<
  LoadSettings,
  'host' | 'port' | 'window' | 'messagesPerClient' | 'ratePerSecond' | 'reconnect'
> {
  readonly clients: readonly LoadIdentity[];
  readonly payload:
    | { readonly template: string }
    | { readonly templates: readonly string[] }
    /** The URL of a module that exports `payloadOf(client, options): LoadPayload`. */
    | { readonly module: string; readonly options?: unknown };
}

export interface LoadProcess {
  readonly pid: number;
  go(): Promise<void>;
  reset(): Promise<void>;
  report(): Promise<LoadReport>;
  stop(): Promise<void>;
  drained(withinMs: number): Promise<boolean>;
  acknowledged(): Promise<readonly number[]>;
  close(): Promise<void>;
}

type Verb = 'go' | 'reset' | 'report' | 'stop' | 'drained' | 'acknowledged' | 'close';
interface Asked {
  readonly number: number;
  readonly verb: Verb | 'open';
  readonly argument?: unknown;
}
interface Answered {
  readonly number: number;
  readonly value?: unknown;
  readonly failure?: string;
}

/** Resolves when all clients are connected. */
export async function openLoadProcess(job: LoadJob): Promise<LoadProcess> {
  const child = fork(fileURLToPath(import.meta.url), { stdio: 'inherit' });
  const ask = asker(child);
  try {
    await ask('open', job);
  } catch (error) {
    child.kill();
    throw error;
  }
  return {
    pid: child.pid ?? 0,
    go: () => ask('go'),
    reset: () => ask('reset'),
    report: () => ask('report'),
    stop: () => ask('stop'),
    drained: (withinMs) => ask('drained', withinMs),
    acknowledged: () => ask('acknowledged'),
    close: async () => {
      await ask('close');
      if (child.exitCode === null) await new Promise((resolve) => child.once('exit', resolve));
    },
  };
}

function asker(child: ChildProcess): <T>(verb: Asked['verb'], argument?: unknown) => Promise<T> {
  const open = new Map<number, { resolve(value: unknown): void; reject(error: Error): void }>();
  let number = 0;
  child.on('message', ({ number: which, value, failure }: Answered) => {
    const waiting = open.get(which);
    open.delete(which);
    if (failure === undefined) waiting?.resolve(value);
    else waiting?.reject(new Error(failure));
  });
  child.on('exit', (code) => {
    for (const waiting of open.values()) waiting.reject(new Error(`the load's process ended with ${code}`));
  });
  return <T>(verb: Asked['verb'], argument?: unknown) =>
    new Promise<T>((resolve, reject) => {
      open.set(++number, { resolve: (value) => resolve(value as T), reject });
      child.send({ number, verb, argument } satisfies Asked);
    });
}

async function payloadOf({ payload }: LoadJob): Promise<(client: number) => LoadPayload> {
  if ('template' in payload) return () => payload.template;
  if ('templates' in payload) return (client) => payload.templates[client % payload.templates.length] ?? '';
  const made = (await import(payload.module)) as { payloadOf(client: number, options: unknown): LoadPayload };
  return (client) => made.payloadOf(client, payload.options);
}

function serve(): void {
  let load: Load | undefined;
  const act = async ({ verb, argument }: Asked): Promise<unknown> => {
    if (verb === 'open') {
      const job = argument as LoadJob;
      load = await openLoad({ ...job, payload: await payloadOf(job) });
      return undefined;
    }
    if (load === undefined) throw new Error('open comes first');
    return verb === 'drained' ? load.drained(Number(argument)) : load[verb]();
  };
  process.on('message', (asked: Asked) => {
    const { number } = asked;
    act(asked).then(
      (value) =>
        process.send?.({ number, value } satisfies Answered, () => asked.verb === 'close' && process.disconnect()),
      (error: unknown) => process.send?.({ number, failure: String(error) } satisfies Answered),
    );
  });
}

if (process.argv[1] === fileURLToPath(import.meta.url) && process.send !== undefined) serve();
