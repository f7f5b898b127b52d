import { spawnSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { allShapes, shapeOf } from '../../packages/cli/src/help/shape.js';
import { folderWith, stayput } from './run-cli.js';
import { definitions } from './stub-io.js';

const cwd = folderWith({ 'heron.yaml': '', 'coast.csv': '', 'a b.yaml': '' });
const has = (shell: string) => spawnSync(shell, ['-c', 'true']).status === 0;

beforeAll(async () => {
  for (const shell of ['bash', 'zsh', 'fish'])
    writeFileSync(join(cwd, `.${shell}`), (await stayput(['completion', shell])).stdout);
});

test('only shells that there are scripts for', async () => {
  const { stderr, code, stdout } = await stayput(['completion', 'tcsh']);
  expect(stderr).toMatch(/bash, zsh, fish/);
  expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
});

describe.skipIf(!has('bash'))('bash (needs bash)', () => {
  /** What bash offers after these words, the last of which is being typed. */
  function offered(...words: string[]): string[] {
    const quoted = words.map((word) => `'${word.replaceAll("'", "'\\''")}'`).join(' ');
    const script = `source ./.bash; COMP_WORDS=(stayput ${quoted}); COMP_CWORD=${words.length}; _stayput; printf '%s\\n' "\${COMPREPLY[@]}"`;
    const { stdout, stderr, status } = spawnSync('bash', ['--norc', '-c', script], {
      cwd,
      encoding: 'utf8',
      env: { PATH: process.env.PATH, LC_ALL: 'C.UTF-8' },
    });
    expect({ stderr, status }).toEqual({ stderr: '', status: 0 });
    return stdout.split('\n').filter((line) => line !== '');
  }

  test('every command, and every option of each', () => {
    const shapes = allShapes(shapeOf(definitions(), {}));
    for (const { path, subs, options } of shapes) {
      expect(offered(...path, '')).toEqual(expect.arrayContaining(subs.map((sub) => sub.path.at(-1))));
      expect(offered(...path, '-')).toEqual(expect.arrayContaining(options.map(({ long }) => long)));
      expect(offered(...path, '--')).toHaveLength(options.length);
    }
  });

  test('words as they begin', () => {
    expect(offered('s').sort()).toEqual(['simulate', 'size', 'stay', 'sweep']);
    expect(offered('sweep', 'mer')).toEqual(['merge']);
    expect(offered('sweep', 'merge', 'all.csv', 'coa')).toEqual(['coast.csv']);
    expect(offered('help', 'un')).toEqual(['units']);
    expect(offered('help', 'simu')).toEqual(['simulate']);
    expect(offered('completion', '')).toEqual(['bash', 'zsh', 'fish']);
    expect(offered('stay', 'heron.yaml', '--pl')).toEqual(['--place', '--plot']);
    expect(offered('nonsense', '')).not.toContain('check');
  });

  test('values of options, with a blank or with =, which bash makes a word of its own', () => {
    expect(offered('log', 'x.csv', '--date-order', '')).toEqual(['ymd', 'dmy', 'mdy']);
    expect(offered('log', 'x.csv', '--date-order', '=')).toEqual(['ymd', 'dmy', 'mdy']);
    expect(offered('log', 'x.csv', '--date-order', '=', 'y')).toEqual(['ymd']);
    expect(offered('log', '--date-order', 'ymd', 'co')).toEqual(['coast.csv']);
    expect(offered('log', '--date-order', '=', 'ymd', 'co')).toEqual(['coast.csv']);
    expect(offered('new', '--chemistry', 'A')).toEqual(['AGM']);
    expect(offered('simulate', 'heron.yaml', '--weather', 'c').sort()).toEqual(['clear', 'climate', 'coast.csv']);
    expect(offered('sweep', 'heron.yaml', '--answer', 'unserved')).toEqual(['unservedHours', 'unservedWh']);
    expect(offered('simulate', 'heron.yaml', '--days', '')).toEqual([]);
  });

  test('names of places, quoted as they must be', () => {
    expect(offered('stay', 'heron.yaml', '--place', 'Sevi')).toEqual(['Seville']);
    expect(offered('stay', 'heron.yaml', '--place', 'Ponte')).toEqual(['Ponte\\ de\\ Lima']);
    expect(offered('stay', 'heron.yaml', '--place', '"Ponte d')).toEqual(['Ponte de Lima']);
    expect(offered('stay', 'heron.yaml', '--place', 'St.')).toEqual(["St.\\ John\\'s"]);
  });

  test('files where files are wanted, those with blanks too', () => {
    expect(offered('check', 'h')).toEqual(['heron.yaml']);
    expect(offered('check', 'a')).toEqual(['a b.yaml']);
    expect(offered('check', 'heron.yaml', '--out', 'co')).toEqual(['coast.csv']);
    expect(offered('check', '--', 'h')).toEqual(['heron.yaml']);
  });
});

test.skipIf(!has('zsh'))('zsh reads it, and knows every command (needs zsh)', () => {
  expect(spawnSync('zsh', ['-n', join(cwd, '.zsh')], { encoding: 'utf8' })).toMatchObject({ status: 0, stderr: '' });
  const script = `autoload -Uz compinit && compinit -D -u; source ./.zsh; print \${_comps[stayput]}; print -l \${(k)functions[(I)_stayput*]}`;
  const { stdout, stderr } = spawnSync('zsh', ['-f', '-c', script], { cwd, encoding: 'utf8' });
  expect(stderr).toBe('');
  const [completer, ...functions] = stdout.trim().split('\n');
  expect(completer).toBe('_stayput');
  const paths = allShapes(shapeOf(definitions(), {})).map(({ path }) => ['_stayput', ...path].join('_'));
  expect(functions.sort()).toEqual(paths.sort());
});

test.skipIf(!has('zsh'))('zsh can evaluate the words for every value, names of places among them (needs zsh)', () => {
  // As _arguments does with an action in parentheses.
  const script = `compdef() { }; _arguments() { local spec action; for spec; do action=\${spec##*:}
    if [[ $action = \\(*\\) ]]; then eval "ws=( \${action[2,-2]} )"; print -l -- "= \${spec%%[=:]*}" $ws; fi; done }
    source ./.zsh; _stayput_stay; _stayput_log`;
  const { stdout, stderr } = spawnSync('zsh', ['-f', '-c', script], { cwd, encoding: 'utf8' });
  expect(stderr).toBe('');
  for (const line of ['= *--place', 'Ponte de Lima', "St. John's", '= *--date-order', 'ymd'])
    expect(stdout.split('\n')).toContain(line);
});

test.skipIf(!has('fish'))('fish completes by it (needs fish)', () => {
  const offered = (line: string) => {
    const { stdout, stderr } = spawnSync('fish', ['--no-config', '-c', `source ./.fish; complete -C '${line}'`], {
      cwd,
      encoding: 'utf8',
      env: { PATH: process.env.PATH, HOME: cwd, LC_ALL: 'C.UTF-8' },
    });
    expect(stderr).toBe('');
    return stdout
      .trim()
      .split('\n')
      .map((entry) => entry.split('\t')[0]);
  };
  expect(offered('stayput s').sort()).toEqual(['simulate', 'size', 'stay', 'sweep']);
  expect(offered('stayput stay heron.yaml --pl').sort()).toEqual(['--place', '--plot']);
  expect(offered('stayput log x.csv --date-order ').sort()).toEqual(['dmy', 'mdy', 'ymd']);
  expect(offered('stayput stay heron.yaml --place Sevi')).toEqual(['Seville']);
  expect(offered('stayput stay heron.yaml --place Ponte')[0]).toMatch(/^Ponte\\? de\\? Lima$/);
  expect(offered('stayput sweep mer')).toEqual(['merge']);
  expect(offered('stayput check her')).toContain('heron.yaml');
});
