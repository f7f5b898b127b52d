import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { drawInPage, drawSvg } from '../../packages/cli/src/show/charts/draw.js';
import { hoursPicture } from '../../packages/cli/src/show/charts/hours-picture.js';
import { linesPicture } from '../../packages/cli/src/show/charts/lines-picture.js';
import { textWidthPx } from '../../packages/cli/src/show/charts/text-width.js';
import { localMs, thinned } from '../../packages/cli/src/show/charts/time-axis.js';
import { waterfallPicture } from '../../packages/cli/src/show/charts/waterfall-picture.js';
import { escaped } from '../../packages/cli/src/show/escape.js';
import { pageHtml } from '../../packages/cli/src/show/page/write.js';

const ABOUT = { id: 'one', title: 'a title', subtitle: 'what it rests on', description: 'in words', foot: 'a foot' };
const HOUR_MS = 3.6e6;

describe('what may be written', () => {
  test('signs that HTML and XML cannot hold are replaced, those that mean something are spelt out', () => {
    expect(escaped(`<a href="x" title='y'>&`)).toBe('&lt;a href=&quot;x&quot; title=&#39;y&#39;&gt;&amp;');
    expect(escaped('a\u0000b\u001bc\ud800d\uffffe\u{1f690}')).toBe('a\ufffdb\ufffdc\ufffdd\ufffde\u{1f690}');
  });

  test('any name stays text in a picture and on a page', () => {
    const nasty = fc.string({
      unit: fc.constantFrom('<', '>', '&', '"', "'", ']', '{', '|', '}', '\n', 'a', ' ', '\u0000'),
    });
    fc.assert(
      fc.property(nasty, (name) => {
        const chart = hoursPicture({
          ...ABOUT,
          title: name,
          description: name,
          unit: name,
          bars: [{ name, values: [1, 2] }],
        });
        const html = pageHtml({
          title: name,
          about: name,
          answers: [{ tone: 'good', text: name }],
          sections: [
            {
              id: 'a',
              heading: name,
              blocks: [
                { kind: 'chart', chart },
                { kind: 'list', items: [name] },
              ],
            },
          ],
        });
        for (const written of [html, drawSvg(chart)]) {
          const tags = [...written.replace(/<style>[\s\S]*?<\/style>/g, '').matchAll(/<(?!!doctype|\/)([^\s>/]*)/g)];
          for (const [, tag] of tags) expect(tag).toMatch(/^[a-zA-Z][a-zA-Z0-9]*$/);
        }
      }),
      { numRuns: 25 },
    );
  });
});

describe('pictures', () => {
  const lines = linesPicture({
    ...ABOUT,
    unit: '%',
    lines: [
      { name: 'model', localMs: [0, HOUR_MS, 2 * HOUR_MS, 3 * HOUR_MS], values: [1, 2, Number.NaN, 4] },
      { name: 'log', localMs: [0, HOUR_MS], values: [2, 1] },
    ],
  });

  test('drawn wide, narrow and alone, each has ids of its own, and the same chart the same bytes', () => {
    const drawings = [drawSvg(lines), drawInPage(lines, 'wide'), drawInPage(lines, 'narrow')];
    const ids = drawings.flatMap((svg) => [...svg.matchAll(/ id="([^"]+)"/g)].map(([, id]) => id));
    expect(new Set(ids).size).toBe(ids.length);
    for (const svg of drawings) {
      expect(svg).not.toMatch(/zr\d|ecmeta|NaN|CDATA|<script/);
      for (const [, used] of svg.matchAll(/url\(#([^)]+)\)/g)) expect(svg).toContain(`id="${used}"`);
    }
    expect(drawSvg(lines)).toBe(drawings[0]);
  });

  test('NaN makes a gap: the line before it and the line after it are not joined', () => {
    const path = /<path d="([^"]*)"[^>]* stroke="#0f6f73"/.exec(drawSvg(lines))![1]!;
    expect(path.match(/M/g)).toHaveLength(2);
  });

  test('a waterfall stands where its sums say: totals from the axis, each step where the one before it ended', () => {
    const svg = drawSvg(
      waterfallPicture({
        ...ABOUT,
        bars: [
          { name: 'in', amount: 100, isTotal: true, words: '100 Wh' },
          { name: 'lost', amount: 30, isTotal: false, words: '30 Wh' },
          { name: 'gained', amount: -10, isTotal: false, words: '10 Wh' },
          { name: 'out', amount: 80, isTotal: true, words: '80 Wh' },
        ],
      }),
    );
    const bars = [...svg.matchAll(/<path d="M([\d.]+) [\d.]+l([\d.]+) [^"]*" fill="#\w+"[^>]*><title>(\w+)/g)].map(
      ([, from, length, name]) => [name, Number(from), Number(length)] as const,
    );
    const [whole] = bars;
    const [, zero = 0, full = 0] = whole!;
    expect(bars.map(([name]) => name)).toEqual(['in', 'lost', 'gained', 'out']);
    bars.forEach(([, from, length], k) => {
      expect((from - zero) / full).toBeCloseTo([0, 0.7, 0.7, 0][k]!, 2);
      expect(length / full).toBeCloseTo([1, 0.3, 0.1, 0.8][k]!, 2);
    });
  });

  test('on a phone no words of a waterfall run off its right edge', () => {
    const svg = drawInPage(
      waterfallPicture({
        ...ABOUT,
        bars: [
          { name: 'came in', amount: 11, isTotal: true, words: '11.0 kWh' },
          { name: 'battery', amount: 1.2, isTotal: false, words: '1.20 kWh, 11 %' },
          { name: 'the loads got', amount: 9.8, isTotal: true, words: '9.80 kWh, 89 %' },
        ],
      }),
      'narrow',
    );
    const widthPx = Number(/viewBox="0 0 (\d+)/.exec(svg)![1]);
    const words = [...svg.matchAll(/<text([^>]*)>([^<]*kWh[^<]*)</g)].map(([, about, said]) => {
      const at = Number(/translate\(([\d.]+)/.exec(about!)?.[1] ?? /\bx="([\d.]+)"/.exec(about!)![1]);
      return /text-anchor="end"/.test(about!) ? at : at + textWidthPx(said!, 12);
    });
    expect(words).toHaveLength(3);
    for (const rightPx of words) expect(rightPx).toBeLessThanOrEqual(widthPx);
  });
});

describe('time', () => {
  test('thinning keeps the lowest and the highest, and never more than four points a stretch', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: -1e3, max: 1e3, noNaN: true }), { minLength: 1, maxLength: 500 }),
        (values) => {
          const points = thinned(values, (i) => i, 20);
          const kept = points.map(([, value]) => value!);
          const near = (value: number) => Number(value.toPrecision(5));
          expect(Math.min(...kept)).toBe(near(Math.min(...values)));
          expect(Math.max(...kept)).toBe(near(Math.max(...values)));
          expect(points.length).toBeLessThanOrEqual(80);
          expect(points.map(([at]) => at)).toEqual(points.map(([at]) => at).toSorted((a, b) => a - b));
        },
      ),
    );
  });

  test('the day on which clocks go forward is 23 hours long, and the days after it begin at midnight', () => {
    // Lisbon 2026: summer time begins on Sunday 29 March at 01:00 UTC (EU directive 2000/84/EC: the last Sunday in March)
    const days = [
      { date: '2026-03-28', startMs: Date.UTC(2026, 2, 28, 0) },
      { date: '2026-03-29', startMs: Date.UTC(2026, 2, 29, 0) },
      { date: '2026-03-30', startMs: Date.UTC(2026, 2, 29, 23) },
    ] as unknown as Parameters<typeof localMs>[0];
    expect(localMs(days, Date.UTC(2026, 2, 28, 12))).toBe(Date.UTC(2026, 2, 28, 12));
    expect(localMs(days, Date.UTC(2026, 2, 29, 23))).toBe(Date.UTC(2026, 2, 30));
    expect(localMs(days, Date.UTC(2026, 2, 30, 11))).toBe(Date.UTC(2026, 2, 30, 12));
  });
});
