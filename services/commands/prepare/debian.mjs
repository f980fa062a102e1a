// Debian packages: finds which are missing and installs them as root, without letting their services start.
import { chmodSync, existsSync, rmSync, writeFileSync } from 'node:fs';
import { PreparationError, runTool, step } from './processes.mjs';

const POLICY = '/usr/sbin/policy-rc.d';

/** True where packages can be installed without asking anybody: a Debian-like system, as root. */
export function isDebianRoot() {
  return process.getuid?.() === 0 && existsSync('/etc/debian_version');
}

export async function missingDebianPackages(names) {
  const { output } = await runTool('dpkg-query', ['-W', '-f', '${Package} ${db:Status-Status}\n', ...names]);
  const installed = new Set(
    output
      .split('\n')
      .filter((line) => line.endsWith(' installed'))
      .map((line) => line.split(' ')[0]),
  );
  return names.filter((name) => !installed.has(name));
}

/** Installs what is missing of these. Services among them are neither started now nor at the next boot. */
export async function ensureDebianPackages(names) {
  const missing = await missingDebianPackages(names);
  if (missing.length === 0) return;
  await step(`installing Debian packages: ${missing.join(' ')}`, async () => {
    const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive', RUNLEVEL: '1' };
    await withoutStarting(async () => {
      await aptGet(['update', '-qq'], env);
      await aptGet(['install', '-y', '-qq', '--no-install-recommends', ...missing], env);
    });
    await keepFromBooting(missing);
  });
}

async function aptGet(args, env) {
  const { code, output } = await runTool('apt-get', args, { env });
  if (code === 0) return;
  process.stderr.write(`${output.split('\n').slice(-25).join('\n')}\n`);
  throw new PreparationError(`apt-get ${args[0]} failed: the end of its output is above.`);
}

/** While this policy stands, installation scripts do not start what they install. One already there is left alone. */
async function withoutStarting(work) {
  if (existsSync(POLICY)) return work();
  writeFileSync(POLICY, '#!/bin/sh\nexit 101\n');
  chmodSync(POLICY, 0o755);
  try {
    return await work();
  } finally {
    rmSync(POLICY, { force: true });
  }
}

async function keepFromBooting(installed) {
  const services = ['mosquitto', 'postgresql'].filter((name) => installed.includes(name));
  if (services.length === 0 || !existsSync('/run/systemd/system')) return;
  await runTool('systemctl', ['disable', '--quiet', ...services]);
}
