import { expect, test } from 'vitest';
import { folderWith, RIG, SUMMER, stayput } from './run-cli.js';

const failed = async (files: Readonly<Record<string, string>>, ...args: string[]) => {
  const { stdout, stderr, code } = await stayput([...args, '--json'], { cwd: folderWith(files) });
  return { document: JSON.parse(stdout), stderr, code };
};

test('every mistake of a file is in one document, with place, message and hint', async () => {
  const bad = RIG.replace('100 Ah', '100 A').replace('chemistry', 'chemistri');
  const { document, stderr, code } = await failed({ 'rig.yaml': bad }, 'simulate', 'rig.yaml', ...SUMMER);
  expect(code).toBe(2);
  expect(document).toMatchObject({ command: 'simulate', exitCode: 2, errors: expect.any(Array) });
  expect(document.errors.length).toBeGreaterThanOrEqual(2);
  expect(document.errors).toContainEqual({
    code: 'wrong_unit',
    path: 'battery.capacity',
    file: 'rig.yaml',
    line: 4,
    column: expect.any(Number),
    message: expect.stringMatching(/100 A/),
    hint: expect.any(String),
  });
  expect(document.errors.find(({ code: one }: { code: string }) => one === 'unknown_key').hint).toMatch(/chemistry/);
  expect(stderr).toMatch(/things to correct/);
});

test.each([
  ['a missing file', ['check', 'none.yaml'], /none\.yaml: there is no such rig/],
  ['an option that is none', ['check', 'rig.yaml', '--nothing'], /unknown option '--nothing'/],
  ['a value that is none', ['simulate', 'rig.yaml', '--place', 'Porto', '--days', 'two'], /^--days two: give/],
  ['nowhere', ['simulate', 'rig.yaml'], /--place/],
] as const)('%s is a document too', async (_what, args, message) => {
  const { document, code } = await failed({ 'rig.yaml': RIG }, ...args);
  expect(code).toBe(2);
  expect(document).toEqual({
    command: args[0],
    exitCode: 2,
    errors: [{ code: 'call', message: expect.stringMatching(message) }],
  });
});

test('a missed target is no error: the document is the answer', async () => {
  const { document, code } = await failed({ 'rig.yaml': RIG }, 'wires', 'rig.yaml', '--all-ok');
  expect(code).toBe(1);
  expect(document).not.toHaveProperty('errors');
});
