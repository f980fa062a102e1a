// Bundles the dashboard into build/dashboard: no inline script or style, so that a strict content security policy holds.
import { defineConfig } from 'vite';

export default defineConfig({
  base: '/',
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
