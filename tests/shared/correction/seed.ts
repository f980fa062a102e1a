// The seed of the random cases: printed, so that a failure can be had again; any other by SEED=….
import { env, stdout } from 'node:process';

export const SEED = Number(env.SEED ?? 20_251);

export function told(what: string, cases: number): void {
  stdout.write(`${what}: ${cases} random cases, seed ${SEED}\n`);
}
