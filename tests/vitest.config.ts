// One configuration for every test. Real sockets and files: each such test file has a process of its own.
import { availableParallelism } from 'node:os';
import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

/** What touches nothing but its own values: such files share a process, for most of their time was loading the same modules again. */
const PURE = [
  'shared',
  'simulators',
  'evaluate',
  'services/rules',
  'services/holds',
  'dashboard/{access,assembly,drawing,floor,gate,headroom,holds,intake,shell,spindle,tool-room,vibration,wording}',
].map((folder) => `tests/${folder}/**/*.test.ts`);

export default defineConfig({
  root: fileURLToPath(new URL('..', import.meta.url)),
  test: {
    environment: 'node',
    pool: 'forks',
    // Many wait for a browser or a broker: on two cores two at a time, where the default would be one.
    maxWorkers: Math.max(2, availableParallelism() - 1),
    testTimeout: 30_000,
    hookTimeout: 120_000,
    teardownTimeout: 20_000,
    restoreMocks: true,
    allowOnly: false,
    projects: [
      { extends: true, test: { name: 'pure', include: PURE, isolate: false } },
      { extends: true, test: { name: 'whole', include: ['tests/**/*.test.ts'], exclude: PURE } },
    ],
  },
});
