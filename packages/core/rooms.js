// Run by `npm run lint`: the rooms of core and their floors, in the order in which they may know each other. A file imports only from
// what stands above its own room and floor in this list: another room through its face, index.js, another floor of its room directly.
import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';

/** Room by room from the top; a room's floors from the top. Files that lie in a room itself stand above its floors. */
export const ROOMS = {
  message: [],
  quantity: [],
  math: [],
  table: [],
  rig: [],
  sky: [],
  place: [],
  weather: ['read', 'made', 'grid'],
  solar: [],
  charge: [],
  battery: [],
  load: [],
  wire: [],
  simulate: ['loop', 'inputs', 'ledger', 'report', 'check', 'run'],
  study: ['run', 'ensemble', 'yield', 'stay', 'remedies', 'size', 'sweep', 'tonight'],
  log: ['cells', 'columns', 'clock', 'read', 'replay', 'parts', 'judge', 'compare', 'calibrate', 'readings'],
};

const IMPORT = /(?:from|import)\s*\(?\s*'(\.[^']+)\.js'/g;

/**
 * What is wrong with the imports of one file.
 * @param {string} file below src, such as log/read/spikes.ts
 * @param {string} text
 * @returns {string[]} a sentence each
 */
export function wrongImports(file, text) {
  const rooms = Object.keys(ROOMS);
  const [room, floor] = placeOf(file);
  if (room === undefined) return []; // the library's own faces look everywhere
  if (!rooms.includes(room)) return [`${file}: the room ${room}/ is not in the list of rooms.js`];
  if (floor !== undefined && !ROOMS[room].includes(floor))
    return [`${file}: the floor ${floor}/ is not in the list of rooms.js`];
  const wrong = [];
  for (const [, path] of text.matchAll(IMPORT)) {
    const target = relative('/', resolve('/', dirname(file), path));
    const [toRoom, toFloor] = placeOf(target);
    if (toRoom === undefined) wrong.push(`${file}: imports ${target}, a face of the whole library`);
    else if (toRoom !== room) {
      if (rooms.indexOf(toRoom) > rooms.indexOf(room))
        wrong.push(`${file}: imports ${target}, which stands below ${room}/`);
      else if (target !== `${toRoom}/index`)
        wrong.push(`${file}: imports ${target}, not ${toRoom}/index.js, the face of that room`);
    } else if (file === `${room}/index.ts`) continue;
    else if (target === `${room}/index`) wrong.push(`${file}: imports its own room's face`);
    else if (ROOMS[room].indexOf(toFloor) > ROOMS[room].indexOf(floor))
      wrong.push(`${file}: imports ${target}, which stands below ${room}/${floor ?? ''}`);
  }
  return wrong;
}

/** Room and floor of a path below src; no floor for a file that lies in the room itself. */
function placeOf(path) {
  const parts = path.split('/');
  return parts.length === 1 ? [] : parts.length === 2 ? [parts[0]] : [parts[0], parts[1]];
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const src = fileURLToPath(new URL('./src/', import.meta.url));
  const files = readdirSync(src, { recursive: true }).filter((path) => path.endsWith('.ts'));
  const wrong = files.flatMap((path) => wrongImports(path, readFileSync(join(src, path), 'utf8')));
  if (wrong.length > 0) {
    console.error(wrong.join('\n'));
    process.exitCode = 1;
  }
}
