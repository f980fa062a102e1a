// While bundling: what makes the dashboard installable. The manifest and its colours, and in the worker the files of the build.
import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import type { HtmlTagDescriptor, Plugin } from 'vite';

const TOKENS = new URL('./tokens.css', import.meta.url);
const MANIFEST = 'manifest.webmanifest';
export const WORKER = 'worker';

/** Of the ground that everything stands on. */
const GROUND = /--ground: light-dark\((#[0-9a-f]{6}), (#[0-9a-f]{6})\)/;

function grounds(): { readonly light: string; readonly dark: string } {
  const [, light, dark] = GROUND.exec(readFileSync(TOKENS, 'utf8')) ?? [];
  if (light === undefined || dark === undefined) throw new Error('tokens.css says no --ground in light and dark');
  return { light, dark };
}

function manifest(): string {
  const { light } = grounds();
  const icon = (size: number, purpose: 'any' | 'maskable') => ({
    src: `/icons/${purpose === 'maskable' ? 'maskable' : 'mark'}-${size}.png`,
    sizes: `${size}x${size}`,
    type: 'image/png',
    purpose,
  });
  const said = {
    id: '/',
    name: 'Counterpoise',
    short_name: 'Counterpoise',
    start_url: '/holds',
    scope: '/',
    display: 'standalone',
    background_color: light,
    theme_color: light,
    icons: [icon(192, 'any'), icon(512, 'any'), icon(192, 'maskable'), icon(512, 'maskable')],
  };
  return `${JSON.stringify(said, undefined, 2)}\n`;
}

function headTags(): HtmlTagDescriptor[] {
  const { light, dark } = grounds();
  const colour = (content: string, scheme: string): HtmlTagDescriptor => ({
    tag: 'meta',
    attrs: { name: 'theme-color', content, media: `(prefers-color-scheme: ${scheme})` },
    injectTo: 'head',
  });
  const link = { tag: 'link', attrs: { rel: 'manifest', href: `/${MANIFEST}` }, injectTo: 'head' } as const;
  return [colour(light, 'light'), colour(dark, 'dark'), link];
}

/** What the shell needs without the service: whatever is built but the page, which is kept by its address, and the worker itself. */
function filesOf(bundle: Readonly<Record<string, unknown>>): readonly string[] {
  return Object.keys(bundle)
    .filter((name) => name.startsWith('assets/') && !name.endsWith('.map'))
    .map((name) => `/${name}`)
    .sort();
}

export function installable(): Plugin {
  return {
    name: 'installable',
    enforce: 'post',
    apply: 'build',
    transformIndexHtml: { order: 'post', handler: headTags },
    generateBundle(_options, bundle) {
      this.emitFile({ type: 'asset', fileName: MANIFEST, source: manifest() });
      const files = filesOf(bundle);
      const page = bundle['index.html'];
      const worker = bundle[`${WORKER}.js`];
      if (worker?.type !== 'chunk' || page?.type !== 'asset') throw new Error('the build has no page or no worker');
      if (worker.imports.length > 0 || worker.exports.length > 0) throw new Error('the worker is to be one file alone');
      const name = createHash('sha256').update(files.join('\n')).update(page.source).digest('hex').slice(0, 16);
      worker.code = worker.code
        .replaceAll('FILES_OF_THIS_BUILD', () => JSON.stringify(files))
        .replaceAll('NAME_OF_THIS_BUILD', () => JSON.stringify(name));
    },
  };
}
