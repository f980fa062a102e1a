// Bundles the dashboard into build/dashboard: no inline script or style, so that a strict content security policy holds.
import { fileURLToPath } from 'node:url';
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

export default defineConfig({
  base: '/',
  plugins: [fetchesShellAtOnce, installable()],
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
    },
  },
});
