import { readFileSync, symlinkSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import { folderWith, stayput } from './run-cli.js';

const root = fileURLToPath(new URL('../../', import.meta.url));
const readme = readFileSync(`${root}README.md`, 'utf8');

/** Blocks of the README that show a command on the examples and what it prints; "..." stands for lines left out. */
const shown = [...readme.matchAll(/^```\n\$ stayput (.*)\n([\s\S]*?)^```$/gm)]
  .map(([, command, output]) => ({ command: command!, lines: output!.trimEnd().split('\n') }))
  .filter(({ command }) => command.includes('examples/'));

describe('what the README shows is what the program prints', () => {
  test('there are such blocks', () => expect(shown.length).toBeGreaterThanOrEqual(4));

  for (const { command, lines } of shown)
    test(command, async () => {
      const cwd = folderWith({});
      symlinkSync(`${root}examples`, `${cwd}/examples`);
      const { stdout } = await stayput(command.split(' '), { cwd });
      const printed = stdout.split('\n');
      let at = 0;
      for (const line of lines) {
        if (line === '...') continue;
        const found = printed.indexOf(line, at);
        expect(found, `"${line}" is not printed there`).toBeGreaterThanOrEqual(at);
        at = found + 1;
      }
    });
});
