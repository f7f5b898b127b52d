import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { describe, expect, test } from 'vitest';
import { HOSTILE_RIG, HOSTILE_TRIP } from '../page/hostile.js';
import { filesIn, folderWith, RIG, stayputProcess, TRIP } from './run-cli.js';

const cwd = folderWith({
  'rig.yaml': RIG,
  'trip.yaml': TRIP,
  'hostile.yaml': HOSTILE_RIG,
  'hostile-trip.yaml': HOSTILE_TRIP,
  'broken.yaml': RIG.replace('capacity:', 'capacty:'),
});

/** What the page was told, as its script reads it. */
function givenIn(html: string): Record<string, unknown> {
  const [, text] = /<script type="application\/json" id="given">(.*?)<\/script>/.exec(html)!;
  return JSON.parse(text!);
}

describe('page', () => {
  test('writes one file that holds rig and trip as they stand, and is small enough to send', async () => {
    const { code, stdout, stderr } = await stayputProcess(['page', 'rig.yaml', 'trip.yaml', '--out', 'a.html'], {
      cwd,
    });
    expect([code, stdout]).toEqual([0, '']);
    expect(stderr).toContain('wrote a.html');
    const html = readFileSync(join(cwd, 'a.html'), 'utf8');
    expect(givenIn(html)).toMatchObject({ rig: RIG, trip: TRIP });
    expect(gzipSync(html, { level: 9 }).length).toBeLessThan(450_000);
    const again = await stayputProcess(['page', 'rig.yaml', 'trip.yaml'], { cwd });
    expect(again.stdout).toBe(html);
  });

  test('asks for nothing from elsewhere, and its policy would forbid it', async () => {
    const { stdout } = await stayputProcess(['page', 'rig.yaml'], { cwd });
    const [, policy] = /Content-Security-Policy" content="([^"]*)"/.exec(stdout)!;
    expect(policy).toContain("default-src 'none'");
    expect(policy).not.toMatch(/unsafe|https?:|\*/);
    const head = stdout.slice(0, stdout.indexOf('<style>'));
    expect(head).not.toMatch(/(?:src|href)="(?!data:,)/);
  });

  test('nothing in a rig or trip gets out of the place it is put into', async () => {
    const { stdout } = await stayputProcess(['page', 'hostile.yaml', 'hostile-trip.yaml'], { cwd });
    expect(givenIn(stdout)).toMatchObject({ rig: HOSTILE_RIG, trip: HOSTILE_TRIP });
    const plain = await stayputProcess(['page'], { cwd });
    const tags = (html: string) => html.match(/<\/?(?:script|style|svg|title|b)\b/gi)!.length;
    expect(tags(stdout)).toBe(tags(plain.stdout));
  });

  test('takes the parts list that it weighs, and refuses one that size would', async () => {
    const parts = 'batteries:\n  - { name: small, chemistry: LFP, capacity: 50 Ah, mass: 6 kg, price: 200 }\n';
    const folder = folderWith({ 'rig.yaml': RIG, 'parts.yaml': parts, 'wrong.yaml': parts.replace('Ah', 'A') });
    const { stdout } = await stayputProcess(['page', 'rig.yaml', '--parts', 'parts.yaml'], { cwd: folder });
    expect(givenIn(stdout)).toMatchObject({ parts });
    const refused = await stayputProcess(['page', 'rig.yaml', '--parts', 'wrong.yaml'], { cwd: folder });
    expect(refused.code).toBe(2);
    expect(refused.stderr).toMatch(/wrong\.yaml:2:\d+ batteries\[0\]\.capacity.*did you mean 50 Ah/);
  });

  test('without a rig it begins with one to change', async () => {
    const { code, stdout } = await stayputProcess(['page', '--place', 'Porto', '--from', '2026-10-01'], { cwd });
    expect(code).toBe(0);
    expect(givenIn(stdout)).toEqual({ version: expect.any(String), where: 'Porto', from: '2026-10-01' });
  });

  test.each([
    [['broken.yaml', '--out', 'b.html'], /broken\.yaml:\d+:\d+ battery\.capacty: unknown key.*capacity/],
    [['missing.yaml', '--out', 'b.html'], /missing\.yaml/],
    [['rig.yaml', '--place', 'Portto', '--out', 'b.html'], /did you mean Porto/],
    [['rig.yaml', 'trip.yaml', '--place', 'Porto', '--out', 'b.html'], /the trip file says where and when/],
    [['rig.yaml', '--from', '2026-13-01', '--out', 'b.html'], /date that exists/],
    [['rig.yaml', '--out', 'rig.yaml'], /rig\.yaml/],
  ])('%j is refused, and nothing is written', async (args, why) => {
    const before = filesIn(cwd);
    const { code, stderr } = await stayputProcess(['page', ...args], { cwd });
    expect([code, stderr]).toEqual([2, expect.stringMatching(why)]);
    expect(filesIn(cwd)).toEqual(before);
    expect(readFileSync(join(cwd, 'rig.yaml'), 'utf8')).toBe(RIG);
  });
});
