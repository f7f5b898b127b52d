import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { folderWith, stayput } from './run-cli.js';

// Readers of a page have never seen the command line or the files: no page of any example speaks of them.

const at = (file: string) => fileURLToPath(new URL(`../../examples/${file}`, import.meta.url));
const RIGS = ['heron.yaml', 'heron-agm.yaml', 'siskin.yaml', 'thin-cable.yaml', 'log-parked.yaml'];
const TRIPS = ['north-west-coast.yaml', 'coast-measured.yaml', 'frost.yaml'];
const WHERE = ['--place', 'Lisbon'];
const DAYS = ['--from', '2026-01-04', '--days', '5'];
const QUICK = ['--years', '1', '--step', '1h'];

const CALLS: readonly (readonly string[])[] = [
  ...RIGS.flatMap((rig) => [
    ['check', at(rig)],
    ['wires', at(rig)],
    ['simulate', at(rig), ...WHERE, ...DAYS, '--never-off'],
    ['simulate', at(rig), '--place', 'Oulu', '--from', '2026-01-04 18:00', '--days', '3', '--start-soc', '30'],
    ['stay', at(rig), ...WHERE, '--months', 'jan', ...QUICK],
    ['yield', at(rig), ...WHERE, ...QUICK],
  ]),
  ...TRIPS.flatMap((trip) => [
    ['simulate', at('heron.yaml'), at(trip)],
    // a weather file of a few days says nothing of stays by month
    ...(trip === 'coast-measured.yaml' ? [] : [['stay', at('heron.yaml'), at(trip), ...QUICK]]),
  ]),
  ['size', at('heron.yaml'), at('parts.yaml'), ...WHERE, '--month', 'jan', ...QUICK],
  ['compare', at('log-parked.yaml'), at('log-parked.csv'), '--place', 'Porto'],
  ['log', at('log-parked.csv')],
];

/** --set, stayput check, battery.maxCharge, solar[0].tilt, { low: 2 %, "on: with loads", rig.yaml */
const OF_THE_PROGRAM =
  /(?:^|\s)--[a-z][\w-]*|\bstayput [a-z]+|\b[a-z]+(?:\[\d+\])?\.[a-z][A-Za-z]+|\b[a-z]+\[\d+\]|\{[^}]*:|"[a-z]+: |[\w-]+\.(?:ya?ml|csv|json|html|epw)\b|\b(?!deg[CF]: |k?Wh: )[a-z]+[A-Z]\w*: |\/(?:home|tmp|work|root)\//g;

const cwd = folderWith({});

test.each(CALLS.map((call, k) => [call.map((word) => word.split('/').at(-1)).join(' '), call, k] as const))(
  'the page of %s speaks no option, no command, no key and no file',
  async (_, call, k) => {
    const path = join(cwd, `${k}.html`);
    const { code, stderr } = await stayput([...call, '--report', path, '--quiet']);
    expect({ code, stderr: code === 2 ? stderr : '' }).not.toMatchObject({ code: 2 });
    const html = readFileSync(path, 'utf8');
    const said = html.replace(/<style>[\s\S]*?<\/style>|<[^>]*>/g, ' ').replaceAll(/&[a-z#0-9]+;/g, ' ');
    expect(said.match(OF_THE_PROGRAM) ?? []).toEqual([]);
    // Every answer begins with one figure or word in large letters; wires and check begin with what is wrong.
    if (!['wires', 'check'].includes(call[0]!)) expect(html).toMatch(/<p class="largest"><strong>[^<]+<\/strong>/);
  },
  60_000,
);
