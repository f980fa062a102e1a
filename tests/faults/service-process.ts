// The built service as a process of its own, which a trial may kill at any moment.
import { join } from 'node:path';
import { startProgram, type Program } from '../environment/program.ts';
import { waitFor } from '../environment/wait-for.ts';
import { TRIAL_PLANT } from './trial-plant.ts';

export interface ServiceProcess {
  readonly port: number;
  readonly program: Program;
}

export interface ServiceWanted {
  /** The tree to run: the build, or a weakened copy of it. */
  readonly build: string;
  readonly data: string;
  readonly env?: Readonly<Record<string, string>>;
}

const STARTED_WITHIN_MS = 30_000;

export const cliOf = (build: string): string => join(build, 'services/commands/counterpoise.js');

export async function startServiceProcess({ build, data, env }: ServiceWanted): Promise<ServiceProcess> {
  const args = [cliOf(build), 'serve', '--plant', TRIAL_PLANT, '--data', data, '--mqtt-port', '0', '--http-port', '0'];
  const program = startProgram(process.execPath, { args, ...(env === undefined ? {} : { env }) });
  let ended: number | string | undefined;
  void program.ended.then((code) => (ended = code));
  const port = await waitFor(
    () => `the service to listen; it printed: ${program.output().slice(-2000)}`,
    () => {
      if (ended !== undefined) throw new Error(`the service ended with ${ended}: ${program.output().slice(-2000)}`);
      const found = /mqtt:\/\/127\.0\.0\.1:(\d+)/.exec(program.output());
      return found === null ? undefined : Number(found[1]);
    },
    STARTED_WITHIN_MS,
  );
  return { port, program };
}

/** One command of the command line, to its end. */
export async function runCommand(build: string, args: readonly string[]): Promise<string> {
  const program = startProgram(process.execPath, { args: [cliOf(build), ...args] });
  const code = await program.ended;
  if (code !== 0)
    throw new Error(`counterpoise ${args.join(' ')} ended with ${code}: ${program.output().slice(-2000)}`);
  return program.output();
}
