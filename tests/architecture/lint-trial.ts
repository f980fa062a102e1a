// Runs the linter, with this project's own configuration, on planted files: a rule that is switched off by mistake
// does not show otherwise.
import { cpSync, mkdirSync, symlinkSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { makeFolder } from '../environment/folder.ts';
import { runProgram } from '../environment/program.ts';
import { ROOT } from './checkout.ts';

const TSCONFIG = JSON.stringify({
  compilerOptions: {
    target: 'es2023',
    module: 'nodenext',
    strict: true,
    allowImportingTsExtensions: true,
    noEmit: true,
  },
  include: ['**/*.ts'],
});

/** What the linter says about these files, one finding a line: FILE RULE. */
export async function lint(files: Readonly<Record<string, string>>): Promise<readonly string[]> {
  const folder = makeFolder('lint');
  try {
    for (const name of ['.oxlintrc.json', 'package.json']) cpSync(join(ROOT, name), join(folder.path, name));
    symlinkSync(join(ROOT, 'node_modules'), join(folder.path, 'node_modules'));
    writeFileSync(join(folder.path, 'tsconfig.json'), TSCONFIG);
    for (const [path, text] of Object.entries(files)) {
      mkdirSync(dirname(join(folder.path, path)), { recursive: true });
      writeFileSync(join(folder.path, path), text);
    }
    const { output } = await runProgram(process.execPath, {
      cwd: folder.path,
      args: [join(ROOT, 'node_modules/oxlint/bin/oxlint'), '--type-aware', '--deny-warnings', '--format=unix'],
      expected: [0, 1],
    });
    return output.split('\n').filter((line) => /:\d+:\d+:/.test(line));
  } finally {
    folder.remove();
  }
}
