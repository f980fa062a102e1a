// The packages of package-lock.json: installs them when they are missing or when the lock file has changed since.
import { existsSync, readFileSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { PreparationError, ROOT, runTool, step } from './processes.mjs';

const NODE_MAJOR_MIN = 20;
const NODE_MINOR_MIN = 19;

/** Refuses a Node that is too old before anything obscure can go wrong with it. */
export function checkNodeVersion(version = process.versions.node) {
  const [major, minor] = version.split('.').map(Number);
  if (major > NODE_MAJOR_MIN || (major === NODE_MAJOR_MIN && minor >= NODE_MINOR_MIN)) return;
  throw new PreparationError(
    `Node ${NODE_MAJOR_MIN}.${NODE_MINOR_MIN} or newer is needed, and this is Node ${version}. Install a newer Node, then run this again.`,
  );
}

export async function ensureDependencies() {
  if (isInstalled()) return;
  await step('installing packages (npm ci)', async () => {
    // Install scripts are left out here: the one that matters is run, and watched, in native-module.mjs.
    const args = ['ci', '--ignore-scripts', '--no-audit', '--no-fund', '--no-progress', '--loglevel=error'];
    const { code } = await runNpm(args, { output: 'stderr' });
    if (code !== 0) {
      throw new PreparationError('npm ci failed: see its message above. It needs the npm registry to be reachable.');
    }
  });
}

/** Runs npm: the one that started this process where there is one, so that versions do not mix. */
export function runNpm(args, options) {
  const started = process.env.npm_execpath;
  if (started !== undefined && basename(started) === 'npm-cli.js') {
    return runTool(process.execPath, [started, ...args], withHeaders(options));
  }
  return runTool('npm', args, withHeaders(options));
}

/** Points node-gyp at the headers that came with this Node, where they did: then it need not download any. */
function withHeaders(options) {
  const prefix = dirname(dirname(process.execPath));
  const env = { ...process.env, ...options.env };
  if (existsSync(join(prefix, 'include/node/node.h'))) env.npm_config_nodedir ??= prefix;
  return { ...options, env };
}

/**
 * Compares what npm recorded as installed with the lock file, so that a developer's own `npm install` counts too.
 * Packages for another platform are absent from the record, and are optional.
 */
export function isInstalled(root = ROOT) {
  const record = join(root, 'node_modules/.package-lock.json');
  if (!existsSync(record)) return false;
  const installed = JSON.parse(readFileSync(record, 'utf8')).packages;
  const locked = JSON.parse(readFileSync(join(root, 'package-lock.json'), 'utf8')).packages;
  return Object.entries(locked).every(([path, entry]) => {
    if (path === '') return true;
    const found = installed[path];
    return found === undefined ? entry.optional === true : found.version === entry.version;
  });
}
