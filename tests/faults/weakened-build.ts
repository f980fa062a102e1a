// Copies of the build with one promise taken out, so that a trial can be seen to fail where the promise is not kept.
import { cpSync, mkdirSync, readFileSync, readdirSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

export type Weakening = 'synchronous-normal' | 'acknowledged-before-commit';

interface Change {
  readonly folder: string;
  readonly from: RegExp;
  readonly to: string;
}

const CHANGES: Record<Weakening, Change> = {
  'synchronous-normal': { folder: 'services/journal', from: /synchronous = FULL/, to: 'synchronous = NORMAL' },
  // The acknowledgement goes out at once; the commit follows behind it.
  'acknowledged-before-commit': {
    folder: 'services',
    from: /plant\.admit\(([^;]*), done\);/s,
    to: 'done(); plant.admit($1, () => undefined);',
  },
};

/** A runnable copy of `root`'s build beneath `into`, changed in exactly one place. */
export function weakenedBuild(root: string, into: string, weakening: Weakening): string {
  const build = join(into, 'build');
  mkdirSync(build, { recursive: true });
  for (const part of ['shared', 'services', 'simulators', 'dashboard']) {
    cpSync(join(root, 'build', part), join(build, part), { recursive: true });
  }
  cpSync(join(root, 'package.json'), join(into, 'package.json'));
  symlinkSync(join(root, 'node_modules'), join(into, 'node_modules'));
  const { folder, from, to } = CHANGES[weakening];
  const changed = readdirSync(join(build, folder))
    .filter((name) => name.endsWith('.js'))
    .map((name) => join(build, folder, name))
    .filter((file) => {
      const text = readFileSync(file, 'utf8');
      const weakened = text.replace(from, to);
      if (weakened !== text) writeFileSync(file, weakened);
      return weakened !== text;
    });
  if (changed.length !== 1) throw new Error(`${weakening}: expected one place to weaken, found ${changed.length}`);
  return build;
}
