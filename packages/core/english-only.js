import { dirname } from 'node:path';

/** zod carries its messages in some forty languages, and its namespace keeps them from being shaken off. Ours are English. */
export const englishOnly = {
  name: 'english-only',
  setup: (bundler) =>
    bundler.onLoad({ filter: /[\\/]zod[\\/]v4[\\/]locales[\\/]index\.js$/ }, ({ path }) => ({
      contents: "export { default as en } from './en.js';",
      resolveDir: dirname(path),
    })),
};
