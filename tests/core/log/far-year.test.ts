import { readLog } from '@stayput/core';
import { expect, test } from 'vitest';

test('a stamp three centuries on makes one gap, counted in the days at its ends alone', () => {
  const text = [
    'time,voltage (V),power (W)',
    '2026-05-04 22:00,13.0,-16',
    '2026-05-04 22:10,12.9,-15',
    '2026-05-04 22:20,12.9,-15',
    '2349-05-04 22:10,12.9,-14',
    '2349-05-04 22:20,12.9,-14',
    '',
  ].join('\n');
  const { daily, gapCount } = readLog(text, { zone: 'UTC', positive: 'charging' });
  expect(daily.map(({ date }) => date)).toEqual(['2026-05-04', '2349-05-04']);
  expect(gapCount).toBe(1);
  for (const { coveredH, gapH } of daily) {
    expect(coveredH).toBeLessThan(1);
    expect(coveredH + gapH).toBeLessThanOrEqual(24);
  }
});
