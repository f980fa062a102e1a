// Makes a fresh checkout ready (packages, native module, build) and then runs one command of it. Plain JavaScript with
// Node's own modules only, because it runs before anything is installed or compiled.
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { build, isBuilt } from './prepare/build.mjs';
import { checkNodeVersion, ensureDependencies, isInstalled } from './prepare/dependencies.mjs';
import { shortHelp } from './prepare/help.mjs';
import { ensureNativeModule } from './prepare/native-module.mjs';
import { endWithNpm, PreparationError, ROOT, runTool, say, withLock } from './prepare/processes.mjs';

/** What each command needs to be built, and what it then runs. */
const COMMANDS = {
  start: { builds: 'product', run: (args) => enter('build/services/commands/counterpoise.js', ['start', ...args]) },
  run: { builds: 'product', run: (args) => enter('build/services/commands/counterpoise.js', args) },
  check: { builds: 'nothing', run: check },
  test: { builds: 'everything', run: (args) => enter('tests/run.mjs', args) },
  bench: { builds: 'everything', run: (args) => enter('build/tests/bench/run.js', args) },
  evaluate: { builds: 'everything', run: (args) => enter('build/tests/evaluate/run.js', args) },
  faults: { builds: 'everything', run: (args) => enter('build/tests/faults/run.js', args) },
};

/** Goes on inside this process, so that signals, standard streams and the exit code are the command's own. */
async function enter(file, args) {
  const path = join(ROOT, file);
  if (!existsSync(path)) throw new PreparationError(`${file} does not exist in this version.`);
  process.argv = [process.argv[0], path, ...args];
  await import(pathToFileURL(path).href);
}

const CHECKS = [
  { name: 'types', tool: 'node_modules/typescript/bin/tsc', args: ['-b'] },
  { name: 'lint', tool: 'node_modules/oxlint/bin/oxlint', args: ['--type-aware', '--deny-warnings'] },
  { name: 'format', tool: 'node_modules/oxfmt/bin/oxfmt', args: ['--check'] },
  {
    name: 'architecture',
    tool: 'node_modules/vitest/vitest.mjs',
    args: ['run', '--config=tests/vitest.config.ts', 'tests/architecture.test.ts'],
  },
];

/** All of the checks run, whatever the first ones say, so that one round shows everything there is to mend. */
async function check() {
  const failed = [];
  for (const { name, tool, args } of CHECKS) {
    say(`checking ${name}`);
    const { code } = await runTool(process.execPath, [join(ROOT, tool), ...args], { output: 'inherit' });
    if (code !== 0) failed.push(name);
  }
  if (failed.length > 0) throw new PreparationError(`check failed: ${failed.join(', ')}`);
  say('check passed: types, lint, format, architecture');
}

async function main([name, ...args]) {
  const command = COMMANDS[name];
  if (command === undefined) {
    throw new PreparationError(`say which of these to run: ${Object.keys(COMMANDS).join(', ')}`);
  }
  const help = shortHelp(name, args);
  if (help !== undefined && !(isInstalled() && isBuilt(command.builds))) {
    process.stdout.write(help);
    return;
  }
  checkNodeVersion();
  endWithNpm();
  await withLock(async () => {
    await ensureDependencies();
    await ensureNativeModule();
    await build(command.builds);
  });
  await command.run(args);
}

try {
  await main(process.argv.slice(2));
} catch (error) {
  if (!(error instanceof PreparationError)) throw error;
  say(error.message);
  process.exitCode = error.exitCode;
}
