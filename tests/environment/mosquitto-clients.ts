// mosquitto_pub and mosquitto_sub: devices written by somebody else, in another language.
import { LOOPBACK } from './loopback.ts';
import { findProgram, runProgram, startProgram, untilPrinted } from './program.ts';
import { waitFor } from './wait-for.ts';

export interface ForeignClient {
  readonly port: number;
  readonly clientId?: string;
  readonly user?: string;
  readonly password?: string;
}

export interface ForeignMessage {
  readonly topic: string;
  readonly payload: string;
  readonly qos: number;
  readonly retain: boolean;
}

export interface ForeignPublish extends ForeignClient {
  readonly topic: string;
  readonly payload: string;
  readonly qos?: 0 | 1 | 2;
  readonly retain?: boolean;
}

/** Publishes one message and waits for its acknowledgement. Code 0: acknowledged; others as mosquitto_pub has them. */
export async function foreignPublish(
  options: ForeignPublish,
): Promise<{ readonly code: number | NodeJS.Signals; readonly output: string }> {
  const args = [...login(options), '-t', options.topic, '-q', String(options.qos ?? 1), '-s'];
  if (options.retain === true) args.push('-r');
  const everyCode = Array.from({ length: 256 }, (_, code) => code);
  return runProgram(findProgram('mosquitto_pub'), { args, input: options.payload, expected: everyCode });
}

export interface ForeignSubscriber {
  readonly messages: readonly ForeignMessage[];
  /** The first message that fits, come already or still to come. */
  next(fits: (message: ForeignMessage) => boolean, withinMs?: number): Promise<ForeignMessage>;
  stop(): Promise<void>;
}

/** Subscribes and waits until the broker has granted it. */
export async function foreignSubscribe(
  options: ForeignClient & { readonly topics: readonly string[]; readonly qos?: 0 | 1 | 2 },
): Promise<ForeignSubscriber> {
  const topics = options.topics.flatMap((topic) => ['-t', topic]);
  const args = [...login(options), ...topics, '-q', String(options.qos ?? 1), '-d', '-F', '%j'];
  // Without stdbuf, what it prints would wait in its buffer until there is a page of it.
  const program = startProgram(findProgram('stdbuf'), { args: ['-oL', findProgram('mosquitto_sub'), ...args] });
  const messages: ForeignMessage[] = [];
  program.onLine((line) => {
    const message = readLine(line);
    if (message !== undefined) messages.push(message);
  });
  await untilPrinted(program, /^Subscribed \(mid/m);
  return {
    messages,
    next: (fits, withinMs) => waitFor('a message at mosquitto_sub', () => messages.find(fits), withinMs),
    stop: () => program.stop(),
  };
}

function readLine(line: string): ForeignMessage | undefined {
  if (!line.startsWith('{')) return undefined;
  const read = JSON.parse(line) as { topic: string; payload?: string; qos: number; retain: number };
  return { topic: read.topic, payload: read.payload ?? '', qos: read.qos, retain: read.retain === 1 };
}

function login(options: ForeignClient): string[] {
  const args = ['-h', LOOPBACK, '-p', String(options.port)];
  if (options.clientId !== undefined) args.push('-i', options.clientId);
  if (options.user !== undefined) args.push('-u', options.user);
  if (options.password !== undefined) args.push('-P', options.password);
  return args;
}
