// However the program is started, by npm or by its own first line, it is started alike: with the memory that was measured.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';

const ROOT = join(import.meta.dirname, '../../..');
const AS_MEASURED = 'MALLOC_ARENA_MAX=2 node --max-semi-space-size=4';

test('npm’s scripts and the program’s first line', () => {
  const { scripts } = JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8')) as {
    scripts: Record<string, string>;
  };
  expect(scripts['start']).toBe(`${AS_MEASURED} services/commands/prepare.mjs start`);
  expect(scripts['counterpoise']).toBe(`${AS_MEASURED} services/commands/prepare.mjs run`);
  const [firstLine] = readFileSync(join(ROOT, 'services/commands/counterpoise.ts'), 'utf8').split('\n');
  expect(firstLine).toBe(`#!/usr/bin/env -S ${AS_MEASURED}`);
});
