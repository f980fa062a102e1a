// Bundles the dashboard into build/dashboard: no inline script or style, so that a strict content security policy holds.
import { defineConfig, type HtmlTagDescriptor, type Plugin } from 'vite';

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
  plugins: [fetchesShellAtOnce],
  build: {
    outDir: '../build/dashboard',
    emptyOutDir: true,
    target: ['chrome123', 'firefox121', 'safari17.5'],
    cssTarget: ['chrome123', 'firefox121', 'safari17.5'],
    // A data: address would need a looser policy than 'self'.
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    reportCompressedSize: true,
  },
});
