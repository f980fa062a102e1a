// Bundles the dashboard into build/dashboard: no inline script or style, so that a strict content security policy holds.
import { fileURLToPath } from 'node:url';
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { brotliCompress, gzip } from 'node:zlib';
import { defineConfig, type HtmlTagDescriptor, type Plugin } from 'vite';
import { installable, WORKER } from './vite.installable.ts';

const here = (path: string): string => fileURLToPath(new URL(path, import.meta.url));

/** The shell waits for the language, its file does not: it is fetched beside. */
const fetchesShellAtOnce: Plugin = {
  name: 'fetches-shell-at-once',
  transformIndexHtml: {
    order: 'post',
    handler: (_html, { bundle = {} }): HtmlTagDescriptor[] =>
      Object.values(bundle)
        .filter((file) => file.type === 'chunk' && file.facadeModuleId?.endsWith('/shell/shell.ts') === true)
        .map(({ fileName }) => ({
          tag: 'link',
          attrs: { rel: 'modulepreload', crossorigin: '', href: `/${fileName}` },
        })),
  },
};

const packedBy = { gz: promisify(gzip), br: promisify(brotliCompress) };
/** In less a browser gains nothing: it comes in one packet of the network either way. */
const PACKED_FROM_BYTES = 1024;

/** Each file packed beside itself, once, so that the service packs nothing; browsers take Brotli over HTTPS only. */
const packsBeside: Plugin = {
  name: 'packs-beside',
  // What a test bundles for itself nobody fetches over a network.
  apply: (_config, { command, mode }) => command === 'build' && mode === 'production',
  async writeBundle({ dir = '' }) {
    const names = readdirSync(dir, { recursive: true, encoding: 'utf8' }).filter((name) =>
      /\.(?:js|css|svg)$/.test(name),
    );
    await Promise.all(
      names.map(async (name) => {
        const file = join(dir, name);
        const bytes = readFileSync(file);
        if (bytes.length < PACKED_FROM_BYTES) return;
        writeFileSync(`${file}.gz`, await packedBy.gz(bytes, { level: 9 }));
        writeFileSync(`${file}.br`, await packedBy.br(bytes));
      }),
    );
  },
};

export default defineConfig({
  base: '/',
  plugins: [fetchesShellAtOnce, installable(), packsBeside],
  build: {
    outDir: '../build/dashboard',
    emptyOutDir: true,
    target: ['chrome123', 'firefox121', 'safari17.5'],
    cssTarget: ['chrome123', 'firefox121', 'safari17.5'],
    // A data: address would need a looser policy than 'self'.
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    reportCompressedSize: true,
    rolldownOptions: {
      input: { index: here('./index.html'), [WORKER]: here('./installed/worker.ts') },
      output: {
        // The browser looks for a worker at one address, and lets it answer for what lies beside and below.
        entryFileNames: ({ name }) => (name === WORKER ? '[name].js' : 'assets/[name]-[hash].js'),
      },
      // Packing takes longer than bundling, and is meant to.
      checks: { pluginTimings: false },
    },
  },
});
