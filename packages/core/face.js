// The two faces of the library, src/index.ts and src/model.ts, as data: which names each exports, and beneath which heading.
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

/** @type {readonly ['index', 'model']} */
export const FACES = ['index', 'model'];

/**
 * @param {'index' | 'model'} face
 * @returns {Map<string, string[]>} names by heading, in the order of the file; names above the first heading are under ''
 */
export function namesByHeading(face) {
  const text = readFileSync(new URL(`./src/${face}.ts`, import.meta.url), 'utf8');
  const found = new Map();
  let heading = '';
  for (const [, title, names] of text.matchAll(/^\/\/ ## (.+)$|^export (?:type )?\{([^}]*)\}/gm)) {
    if (title) heading = title;
    else
      for (const name of names.split(',')) {
        const exported = name
          .trim()
          .replace(/^type /, '')
          .replace(/^.* as /, '');
        if (exported) found.set(heading, [...(found.get(heading) ?? []), exported]);
      }
  }
  return found;
}

/** What each face is imported as, and the file it is in: for bundlers and tests that take the library from `folder`. */
export function faceAliases(folder = fileURLToPath(new URL('./src', import.meta.url)), extension = 'ts') {
  return {
    '@stayput/core/model': `${folder}/model.${extension}`,
    '@stayput/core': `${folder}/index.${extension}`,
  };
}
