// What the bundler makes of a pattern of files: each by its path, fetched when it is called.
interface ImportMeta {
  glob<T>(pattern: string, options: { readonly import: 'default' }): Record<string, (() => Promise<T>) | undefined>;
}
