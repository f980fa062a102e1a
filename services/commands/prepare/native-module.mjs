// The one native module, better-sqlite3: taken ready-made where its makers offer a build for this system, compiled from
// source where not, and in both cases opened once before anything relies on it.
import { existsSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { ensureDebianPackages, isDebianRoot } from './debian.mjs';
import { runNpm } from './dependencies.mjs';
import { PreparationError, ROOT, runTool, step } from './processes.mjs';

const READY_MADE_TIMEOUT_MS = 60_000;
const BINARY = join(ROOT, 'node_modules/better-sqlite3/build/Release/better_sqlite3.node');
const STAMP = join(ROOT, 'node_modules/.counterpoise-native');
const TOOLCHAIN = [
  { program: 'make', package: 'make' },
  { program: 'g++', package: 'g++' },
  { program: 'python3', package: 'python3' },
];

export async function ensureNativeModule() {
  if (isProven()) return;
  if (!(await opens()) && !(await fetchReadyMade())) await compile();
  writeFileSync(STAMP, fingerprint());
}

/** What was proven to open: this file, with this Node. */
function fingerprint() {
  const { size, mtimeMs } = statSync(BINARY);
  return [size, mtimeMs, process.versions.modules, process.platform, process.arch].join(' ');
}

function isProven() {
  return existsSync(BINARY) && existsSync(STAMP) && readFileSync(STAMP, 'utf8') === fingerprint();
}

/** Opens a database in a process of its own: a module that failed to load cannot be loaded again in the same one. */
async function opens() {
  if (!existsSync(BINARY)) return false;
  const script = "new (require('better-sqlite3'))(':memory:').exec('select 1')";
  return (await runTool(process.execPath, ['-e', script])).code === 0;
}

async function fetchReadyMade() {
  if (process.env.npm_config_build_from_source !== undefined) return false;
  return step('looking for a ready-made database module', async () => {
    const { code } = await runTool(process.execPath, [join(ROOT, 'node_modules/prebuild-install/bin.js')], {
      cwd: join(ROOT, 'node_modules/better-sqlite3'),
      timeoutMs: READY_MADE_TIMEOUT_MS,
    });
    return code === 0 && (await opens());
  });
}

async function compile() {
  await ensureToolchain();
  const { code, output } = await step('compiling the database module from source, about a minute', () =>
    runNpm(['rebuild', 'better-sqlite3', '--build-from-source', '--foreground-scripts'], { env: { JOBS: 'max' } }),
  );
  if (code === 0 && (await opens())) return;
  process.stderr.write(`${output.split('\n').slice(-40).join('\n')}\n`);
  throw new PreparationError('better-sqlite3 could not be compiled: the end of the compiler’s output is above.');
}

async function ensureToolchain() {
  const missing = [];
  for (const tool of TOOLCHAIN) {
    if ((await runTool(tool.program, ['--version'])).code !== 0) missing.push(tool);
  }
  if (missing.length === 0) return;
  if (isDebianRoot()) {
    await ensureDebianPackages(missing.map((tool) => tool.package));
    return;
  }
  const names = missing.map((tool) => tool.program).join(', ');
  throw new PreparationError(
    `better-sqlite3 has to be compiled here, and ${names} is missing. Install it and run this again. ` +
      'Debian, Ubuntu: sudo apt-get install make g++ python3. Fedora: sudo dnf install make gcc-c++ python3. ' +
      'macOS: xcode-select --install.',
  );
}
