// One configuration for every test: real sockets and files, so each test file has a process of its own.
import { availableParallelism } from 'node:os';
import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

export default defineConfig({
  root: fileURLToPath(new URL('..', import.meta.url)),
  test: {
    include: ['tests/**/*.test.ts'],
    environment: 'node',
    pool: 'forks',
    // Many wait for a browser or a broker: on two cores two at a time, where the default would be one.
    maxWorkers: Math.max(2, availableParallelism() - 1),
    testTimeout: 30_000,
    hookTimeout: 120_000,
    teardownTimeout: 20_000,
    restoreMocks: true,
    allowOnly: false,
  },
});
