// An image with mosquitto for podman, made of Debian packages from the mirror that this machine already uses, because
// a machine that reaches Debian's mirror need not reach a registry of images. Made once, then kept in the cache.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { makeFolder } from './folder.ts';
import { findProgram, runProgram } from './program.ts';

type Environment = Readonly<Record<string, string>>;

const LEFT_OUT = ['./var/cache/apt', './var/lib/apt/lists', './usr/share/doc', './usr/share/locale', './usr/share/man'];

/** The image's name; makes the image first where it is not there yet. */
export async function ensureMosquittoImage(podman: string, env: Environment): Promise<string> {
  const source = await aptSource();
  const image = `localhost/counterpoise-tests/mosquitto:${source.release}`;
  const { code } = await runProgram(podman, { args: ['image', 'exists', image], env, expected: [0, 1] });
  if (code === 0) return image;
  const folder = makeFolder('image');
  try {
    const root = join(folder.path, 'root');
    const options = ['--variant=minbase', '--include=mosquitto', `--components=${source.components.join(',')}`];
    await runProgram(findProgram('debootstrap'), { args: [...options, source.release, root, source.site] });
    const archive = join(folder.path, 'image.tar');
    const exclude = LEFT_OUT.map((path) => `--exclude=${path}`);
    await runProgram(findProgram('tar'), { args: ['-C', root, ...exclude, '-cf', archive, '.'] });
    await runProgram(podman, { args: ['import', '--quiet', archive, image], env });
  } finally {
    folder.remove();
  }
  return image;
}

/** The mirror, release and components that apt is configured with for this machine's own release. */
async function aptSource(): Promise<{ site: string; release: string; components: readonly string[] }> {
  const release = /^VERSION_CODENAME=(\S+)$/m.exec(readFileSync('/etc/os-release', 'utf8'))?.[1];
  if (release === undefined) throw new Error('/etc/os-release names no release');
  const format = '$(SITE) $(RELEASE) $(COMPONENT)';
  const { output } = await runProgram(findProgram('apt-get'), {
    args: ['indextargets', '--format', format, 'Identifier: Packages'],
  });
  const targets = output.split('\n').map((line) => line.trim().split(' '));
  const own = targets.filter(([, name]) => name === release);
  const site = own[0]?.[0];
  if (site === undefined) throw new Error(`apt has no source for ${release}`);
  const components = new Set(own.filter(([from]) => from === site).map(([, , component = 'main']) => component));
  return { site, release, components: [...components] };
}
