// What a runner says and ends with where it refuses what it is asked for.
import { expect, vi } from 'vitest';

/** What `work` wrote to stderr until it ended the process, and with which code; it does not end here. */
export function refusal(work: () => unknown): { readonly said: string; readonly code: unknown } {
  let said = '';
  vi.spyOn(process.stderr, 'write').mockImplementation((text) => {
    said += String(text);
    return true;
  });
  const exit = vi.spyOn(process, 'exit').mockImplementation(() => {
    throw new Error('ended');
  });
  expect(work).toThrow('ended');
  return { said, code: exit.mock.calls[0]?.[0] };
}

/** As if the process had been started with these words. */
export function asked<Wish>(wished: () => Wish, ...words: readonly string[]): Wish {
  process.argv = ['node', 'run', ...words];
  return wished();
}
