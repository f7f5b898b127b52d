import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { RIG, SUMMER, TRIP } from '../cli/run-cli.js';

const example = (name: string) =>
  readFileSync(fileURLToPath(new URL(`../../examples/${name}`, import.meta.url)), 'utf8');

/** What every call below finds in its folder. */
export const FILES: Readonly<Record<string, string>> = {
  'rig.yaml': RIG,
  'cabled.yaml': example('heron.yaml'),
  'trip.yaml': TRIP,
  'parts.yaml': example('parts.yaml'),
  'log.csv': example('log-parked.csv'),
  'parked.yaml': example('log-parked.yaml'),
};

/** Every way to write a file, with the files that the call writes; short, so that they can be broken off often. */
export const WRITING: readonly { readonly args: readonly string[]; readonly writes: readonly string[] }[] = [
  { args: ['new', '--out', 'a.out'], writes: ['a.out'] },
  { args: ['check', 'rig.yaml', '--out', 'a.out'], writes: ['a.out'] },
  { args: ['wires', 'cabled.yaml', '--out', 'a.out', '--plot', 'b.svg'], writes: ['a.out', 'b.svg'] },
  {
    args: ['simulate', 'rig.yaml', ...SUMMER, '--days', '20', '--step', '5min', '--out', 'a.out', '--trace', 'b.csv'],
    writes: ['a.out', 'b.csv'],
  },
  {
    args: ['simulate', 'rig.yaml', 'trip.yaml', '--report', 'a.html', '--plot', 'b.svg'],
    writes: ['a.html', 'b.svg'],
  },
  { args: ['yield', 'rig.yaml', '--place', 'Porto', '--years', '1', '--plot', 'a.svg'], writes: ['a.svg'] },
  {
    args: ['stay', 'rig.yaml', '--place', 'Porto', '--months', 'oct', '--years', '1', '--plot', 'a.svg'],
    writes: ['a.svg'],
  },
  {
    args: ['tonight', 'rig.yaml', '--place', 'Porto', '--soc', '50', '--days', '1', '--out', 'a.out'],
    writes: ['a.out'],
  },
  {
    args: ['size', 'rig.yaml', 'parts.yaml', '--place', 'Porto', '--month', 'jul', '--years', '1', '--plot', 'a.svg'],
    writes: ['a.svg'],
  },
  {
    args: ['sweep', 'rig.yaml', ...SUMMER, '--days', '3', '--vary', 'battery.capacity=50,100 Ah', '--plot', 'a.svg'],
    writes: ['a.svg'],
  },
  {
    args: ['log', 'log.csv', '--zone', 'Europe/Rome', '--tidy', 'a.csv', '--rejects', 'b.csv', '--out', 'c.out'],
    writes: ['a.csv', 'b.csv', 'c.out'],
  },
  {
    args: ['compare', 'parked.yaml', 'log.csv', '--at', '40.1,18.4', '--out', 'a.out', '--report', 'b.html'],
    writes: ['a.out', 'b.html'],
  },
  {
    args: ['calibrate', 'parked.yaml', 'log.csv', '--at', '40.1,18.4', '--rig-out', 'a.yaml', '--plot', 'b.svg'],
    writes: ['a.yaml', 'b.svg'],
  },
  { args: ['report', 'rig.yaml', 'trip.yaml', '--years', '1', '--out', 'a.html'], writes: ['a.html'] },
  { args: ['page', 'rig.yaml', 'trip.yaml', '--out', 'a.html'], writes: ['a.html'] },
];
