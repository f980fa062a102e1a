// Runs the tests: first makes sure that the foreign programs they talk to are there, then starts vitest, and closes
// with one line that says how many passed and failed.
import { existsSync, mkdirSync, readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { ensureDebianPackages, isDebianRoot, missingDebianPackages } from '../services/commands/prepare/debian.mjs';
import { PreparationError, ROOT, runTool, say } from '../services/commands/prepare/processes.mjs';
import { close } from './closing-line.mjs';

/** Each package, the program or Python module that shows it is there on other systems, and what it is for. */
const NEEDED = [
  { package: 'chromium', program: 'chromium', for: 'journeys through the dashboard' },
  { package: 'mosquitto', program: 'mosquitto', for: 'a foreign broker' },
  { package: 'mosquitto-clients', program: 'mosquitto_pub', for: 'foreign devices' },
  { package: 'python3-paho-mqtt', module: 'paho.mqtt.client', for: 'a foreign device in another language' },
  { package: 'python3-scipy', module: 'scipy', for: 'a second opinion on the mathematics' },
  { package: 'r-cran-lme4', program: 'Rscript', for: 'a second opinion on effects that numbers share' },
  { package: 'r-cran-survival', program: 'Rscript', for: 'a second opinion on how long cutters last' },
  { package: 'postgresql', program: 'initdb', for: 'the journal on PostgreSQL' },
  { package: 'gcc', program: 'gcc', for: 'the power-cut trial' },
  { package: 'openssl', program: 'openssl', for: 'certificates of a test’s own' },
];
/** Needed only where no Docker engine answers. */
const NEEDED_FOR_CONTAINERS = [
  { package: 'podman', program: 'podman', for: 'containers' },
  { package: 'runc', program: 'runc', for: 'containers' },
  { package: 'debootstrap', program: 'debootstrap', for: 'the image of the containers' },
];
const DOCKER_TIMEOUT_MS = 5_000;

async function ensurePrograms() {
  const needed = (await dockerAnswers()) ? NEEDED : [...NEEDED, ...NEEDED_FOR_CONTAINERS];
  const packages = needed.map((need) => need.package);
  if (isDebianRoot()) return ensureDebianPackages(packages);
  if ((await runTool('dpkg-query', ['--version'])).code === 0) {
    const missing = await missingDebianPackages(packages);
    if (missing.length === 0) return;
    throw new PreparationError(`the tests need more packages: sudo apt-get install ${missing.join(' ')}`);
  }
  const missing = [];
  for (const need of needed) if (!(await isThere(need))) missing.push(need);
  if (missing.length === 0) return;
  const list = missing.map((need) => `  ${need.program ?? `Python module ${need.module}`}: ${need.for}`).join('\n');
  throw new PreparationError(`the tests need more programs on the PATH:\n${list}`);
}

async function isThere({ program, module }) {
  const [tool, args] = program === undefined ? ['python3', ['-c', `import ${module}`]] : ['which', [program]];
  return (await runTool(tool, args)).code === 0;
}

async function dockerAnswers() {
  const { code } = await runTool('docker', ['version', '--format', '{{.Server.Version}}'], {
    timeoutMs: DOCKER_TIMEOUT_MS,
  });
  return code === 0;
}

/** Runs vitest and returns its exit code, and its results where it came far enough to write any. */
async function runTests(args) {
  const file = join(ROOT, 'build/test-results.json');
  mkdirSync(join(ROOT, 'build'), { recursive: true });
  rmSync(file, { force: true });
  const vitest = join(ROOT, 'node_modules/vitest/vitest.mjs');
  const reporters = ['--reporter=default', '--reporter=json', `--outputFile.json=${file}`];
  const options = ['run', '--config=tests/vitest.config.ts', ...reporters, ...args];
  const { code } = await runTool(process.execPath, [vitest, ...options], { output: 'inherit' });
  return { code, results: existsSync(file) ? JSON.parse(readFileSync(file, 'utf8')) : undefined };
}

try {
  await ensurePrograms();
  const { code, results } = await runTests(process.argv.slice(2));
  const { line, trouble } = close(code, results);
  if (trouble !== undefined) say(trouble);
  process.exitCode = code === 0 && trouble !== undefined ? 1 : code;
  process.stdout.write(`${line}\n`);
} catch (error) {
  if (!(error instanceof PreparationError)) throw error;
  say(error.message);
  process.exitCode = error.exitCode;
}
