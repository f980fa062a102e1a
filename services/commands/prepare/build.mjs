// Compiles the sources and bundles the dashboard, each only when what it is made of has changed.
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync, readdirSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { PreparationError, ROOT, runTool, step } from './processes.mjs';

const PRODUCT = ['shared', 'services', 'simulators', 'dashboard', 'tsconfig.json', 'package-lock.json'];
const TSC = join(ROOT, 'node_modules/typescript/bin/tsc');
const VITE = join(ROOT, 'node_modules/vite/bin/vite.js');

/** What is made, of which sources, by which command. Tests are compiled only for the commands that need them. */
const STAGES = {
  services: { title: 'compiling', from: PRODUCT, tool: [TSC, '-b', 'services', 'dashboard'] },
  tests: { title: 'compiling with tests', from: [...PRODUCT, 'tests'], tool: [TSC, '-b'] },
  dashboard: {
    title: 'bundling the dashboard',
    from: ['shared', 'dashboard', 'package-lock.json'],
    tool: [VITE, 'build', 'dashboard', '--logLevel', 'warn'],
    needs: 'dashboard/index.html',
  },
};

export async function build(what) {
  if (what === 'nothing') return;
  await buildStage(what === 'everything' ? 'tests' : 'services');
  await buildStage('dashboard');
}

/** Whether `build` would have nothing to do before a program can run; the dashboard may lag behind. */
export function isBuilt(what) {
  const name = what === 'everything' ? 'tests' : 'services';
  return isUpToDate(stampOf(name), hashOf(STAGES[name].from));
}

async function buildStage(name) {
  const { title, from, tool, needs } = STAGES[name];
  if (needs !== undefined && !existsSync(join(ROOT, needs))) return;
  const stamp = stampOf(name);
  const contents = hashOf(from);
  if (isUpToDate(stamp, contents)) return;
  const { code, output } = await step(title, () => runTool(process.execPath, tool));
  process.stderr.write(output);
  if (code !== 0) throw new PreparationError(`${title} failed: see above.`);
  mkdirSync(dirname(stamp), { recursive: true });
  writeFileSync(stamp, contents);
}

function stampOf(name) {
  return join(ROOT, 'build', `.${name}-stamp`);
}

function isUpToDate(stamp, contents) {
  return existsSync(stamp) && readFileSync(stamp, 'utf8') === contents;
}

function hashOf(paths) {
  const hash = createHash('sha1');
  for (const path of paths) addTo(hash, path);
  return hash.digest('hex');
}

function addTo(hash, path) {
  const full = join(ROOT, path);
  if (!existsSync(full)) return;
  const entries = readdirOrNothing(full);
  if (entries === undefined) hash.update(`${path}\0`).update(readFileSync(full));
  else for (const entry of entries) addTo(hash, `${path}/${entry}`);
}

/** The names in a folder in a fixed order, or nothing where the path is a file. */
function readdirOrNothing(path) {
  try {
    return readdirSync(path).sort();
  } catch (error) {
    if (error.code === 'ENOTDIR') return undefined;
    throw error;
  }
}
