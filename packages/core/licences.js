// Gathers the licences of what a package ships, as they ask for: the code in its bundle and the files copied beside it.
import { readdir, readFile, stat } from 'node:fs/promises';
import { join } from 'node:path';

/** The folders of the packages whose code is in the bundle, from esbuild's account of it. */
export function packagesIn(metafile, from) {
  const used = Object.values(metafile.outputs).flatMap(({ inputs }) =>
    Object.entries(inputs).flatMap(([path, { bytesInOutput }]) => (bytesInOutput > 0 ? [path] : [])),
  );
  const folders = used.flatMap((path) => /^.*\/node_modules\/(?:@[^/]+\/)?[^/]+(?=\/)/.exec(path)?.[0] ?? []);
  return folders.map((path) => join(from, path));
}

/** One text: of each package its name, version, where its source is, and its licence whole. */
export async function licences(folders) {
  const texts = new Map(await Promise.all(folders.map(licenceOf)));
  return [...texts.keys()]
    .sort()
    .map((name) => texts.get(name))
    .join(`\n\n${'-'.repeat(80)}\n\n`);
}

async function licenceOf(folder) {
  const about = JSON.parse(await readFile(join(folder, 'package.json'), 'utf8'));
  const texts = await textsIn(folder);
  if (texts.length === 0) texts.push(...(await sectionOfReadme(folder)));
  if (texts.length === 0) throw new Error(`${about.name} has no licence text: write one or do without it`);
  const heading = `${about.name} ${about.version} (${about.license ?? 'licence below'})`;
  return [about.name, [heading, ...sourceOf(about), ...texts.map((text) => text.trim())].join('\n\n')];
}

/** Licence, notice and copying files, and those in a folder of such a name. */
async function textsIn(folder) {
  const names = (await readdir(folder)).filter((name) => /^(licen[cs]es?|copying|notice)\b/i.test(name)).sort();
  const texts = names.map(async (name) => {
    const path = join(folder, name);
    if ((await stat(path)).isFile()) return [await readFile(path, 'utf8')];
    return Promise.all((await readdir(path)).sort().map((inner) => readFile(join(path, inner), 'utf8')));
  });
  return (await Promise.all(texts)).flat();
}

async function sectionOfReadme(folder) {
  const name = (await readdir(folder)).find((file) => /^readme/i.test(file));
  const text = name === undefined ? '' : await readFile(join(folder, name), 'utf8');
  const section = /^(?:#+ *licen[cs]e\b.*|licen[cs]e\b.*\r?\n-+)\r?\n[\s\S]+/im.exec(text)?.[0];
  return section === undefined ? [] : [section];
}

/** Some licences ask that whoever gets the program is told where its source is. */
function sourceOf({ homepage, repository }) {
  const url = typeof repository === 'object' ? repository.url : repository;
  const found = url ?? homepage;
  return found === undefined ? [] : [`Source: ${found.replace(/^git\+/, '').replace(/^git@([^:]+):/, 'https://$1/')}`];
}
