import type { FridgeReport, Rig, StayStudy, Sweep } from '@stayput/core';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { drawInPage, drawSvg } from '../../packages/cli/src/show/charts/draw.js';
import { fridgePicture } from '../../packages/cli/src/show/charts/fridge-picture.js';
import { hoursPicture } from '../../packages/cli/src/show/charts/hours-picture.js';
import { limitBarsPicture } from '../../packages/cli/src/show/charts/limit-bars.js';
import { linesPicture } from '../../packages/cli/src/show/charts/lines-picture.js';
import { PALETTE } from '../../packages/cli/src/show/charts/palette.js';
import { sizePicture } from '../../packages/cli/src/show/charts/size-picture.js';
import { stayPicture } from '../../packages/cli/src/show/charts/stay-picture.js';
import { sweepPicture } from '../../packages/cli/src/show/charts/sweep-picture.js';
import { textWidthPx } from '../../packages/cli/src/show/charts/text-width.js';
import { localMs, thinned } from '../../packages/cli/src/show/charts/time-axis.js';
import { waterfallPicture } from '../../packages/cli/src/show/charts/waterfall-picture.js';
import { escaped } from '../../packages/cli/src/show/escape.js';
import { pageHtml } from '../../packages/cli/src/show/page/write.js';
import type { Sized } from '../../packages/cli/src/show/size-text.js';
import type { SweepDrawn } from '../../packages/cli/src/show/sweep-answers.js';

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

/** Rectangles filled with a colour, as the library writes them: [left, bottom, width, height], in their order. */
function rectangles(svg: string, fill: string): { x: number; y: number; width: number; height: number }[] {
  const path = new RegExp(`<path d="M([-\\d.]+) ([-\\d.]+)l([-\\d.]+) 0l0 ([-\\d.]+)l[-\\d.]+ 0Z" fill="${fill}"`, 'g');
  return [...svg.matchAll(path)].map(([, x, y, width, height]) => ({
    x: Number(x),
    y: Number(y),
    width: Math.abs(Number(width)),
    height: Math.abs(Number(height)),
  }));
}

describe('honest scales', () => {
  const study = (days: readonly number[]) =>
    ({
      place: { name: 'Inland' },
      horizonDays: 60,
      weatherYears: 10,
      darkDays: 1,
      darkMonth: 8,
      months: days.map((parkedDaysP10, k) => ({
        month: k + 1,
        parkedDaysP10,
        parkedDaysP50: 2 * parkedDaysP10,
        darkDays: 1,
        indefinite: parkedDaysP10 >= 60,
      })),
    }) as unknown as StayStudy;

  test.each([
    [[1, 2, 4, 8, 15, 24, 20, 12, 6, 3, 2, 1.5]],
    [[40, 60, 60, 55, 20, 10, 5, 3, 2, 1, 0.5, 2.5]],
    [[0.7, 2.8]],
  ])('twice the days of stay are twice the length, from zero: %j', (days) => {
    const bars = rectangles(drawSvg(stayPicture('Wren', { kind: 'climate' }, [study(days)])), PALETTE.sun[0])
      .filter(({ width }) => width > 14.5) // not the legend's
      .map(({ height }) => height);
    expect(bars).toHaveLength(days.length);
    const most = Math.max(...days);
    days.forEach((one, k) => {
      expect(bars[k]! / bars[days.indexOf(most)]!).toBeCloseTo(one / most, 2);
    });
  });

  test.each(['wide', 'narrow'] as const)(
    'bars beside a limit are as long as their values, their limits stand on the same scale: %s',
    (size) => {
      const bars = [
        { name: 'a', value: 1.5, limit: 3 },
        { name: 'b', value: 6, limit: 3 },
        { name: 'c', value: 3, limit: 10 },
      ].map((bar) => ({ ...bar, words: () => 'some words', isOver: bar.value > bar.limit }));
      const svg = drawInPage(
        limitBarsPicture({ ...ABOUT, bars, keys: { within: 'in', over: 'out', limit: 'most' }, axisWords: String }),
        size,
      );
      const drawn = [...rectangles(svg, PALETTE.battery[0]), ...rectangles(svg, PALETTE.trouble[0])]
        .filter(({ height }) => height < 13.5)
        .sort((one, other) => one.y - other.y);
      const [zero] = drawn.map(({ x }) => x);
      expect(drawn.map(({ x }) => x)).toEqual([zero, zero, zero]);
      const perUnit = drawn[1]!.width / 6;
      expect(drawn.map(({ width }) => width / perUnit)).toEqual([1.5, 6, 3].map((value) => expect.closeTo(value, 1)));
      const marks = [
        ...svg.matchAll(/<path d="[^"]*" transform="(?:matrix\(([^)]*)\)|translate\(([^)]*)\))[^>]*fill="#26302f"/g),
      ].map(([, matrix, moved]) => Number((matrix ?? moved)!.split(/[ ,]+/).at(-2)));
      expect(marks.slice(0, 3).map((x) => (x - zero!) / perUnit)).toEqual(
        [3, 3, 10].map((value) => expect.closeTo(value, 1)),
      );
    },
  );

  test('a map of a share has the scale of all shares: values that hardly differ have colours that hardly differ', () => {
    const answers = Float64Array.of(0.399, 0.408, 0.413, 0.427);
    const sweep = {
      plan: {
        variants: 4,
        varied: ['battery.capacity', 'solar.roof.tilt'].map((path) => ({
          path,
          unit: '',
          count: 2,
          cellAt: (k: number) => k,
        })),
      },
      columns: [{ key: 'lowestSoc', heading: 'lowest_soc' }],
      years: 1,
    } as unknown as Sweep;
    const rig = { name: 'Wren', solar: [{ name: 'roof' }], loads: [] } as unknown as Rig;
    const svg = drawSvg(
      sweepPicture({
        rig,
        sweep,
        key: 'lowestSoc',
        answers: new Map([['lowestSoc', answers]]),
      } as unknown as SweepDrawn),
    );
    const fills = [...svg.matchAll(/fill="rgba?\((\d+),(\d+),(\d+)[^"]*"[^>]*><title>\d, \d: (\d+) %/g)];
    expect(fills.map(([, , , , percent]) => percent)).toEqual(['40', '41', '41', '43']);
    const [first, , , last] = fills.map(([, ...rgb]) => rgb.slice(0, 3).map(Number));
    for (const [k, part] of first!.entries()) expect(Math.abs(part - last![k]!)).toBeLessThan(16);
    expect(svg).toContain('>100 %<');
    expect(svg).not.toMatch(/battery\.capacity|solar\.roof/);
  });

  test('a fridge that went without power leaves its days out, and the picture says so', () => {
    const days = [0, 0, 5, 0, 24].map((hoursWithout, k) => ({
      date: `2026-10-0${k + 1}`,
      roomMeanC: 20 + k,
      dutyCycle: hoursWithout > 0 ? 0 : 0.3,
      hoursWithout,
    }));
    const fridge = (some: typeof days) =>
      fridgePicture('Wren', [{ name: 'fridge', setpointC: 4, days: some } as unknown as FridgeReport]);
    const svg = drawSvg(fridge(days)!);
    expect(svg.match(/<title>\d Oct: 30 %/g)).toHaveLength(3);
    expect(svg).not.toMatch(/<title>\d Oct: 0 %/);
    expect(svg).toContain('2 days on which a fridge went without power are left out');
    expect(fridge(days.slice(4))).toBeUndefined();
  });

  test('a size picture has its nights upwards from zero, and names the best ones with their figure', () => {
    const choice = (massKg: number, price: number, nightsWithout: number, marks: readonly string[] = []) => ({
      massKg,
      price,
      nightsWithout,
      marks,
      meets: nightsWithout === 0,
      onFront: true,
      parts: [{ name: 'B', count: 1, kind: 'battery' }],
      batteryAh: 100,
    });
    const choices = [
      choice(10, 1500, 0, ['lightest']),
      choice(20, 700, 3),
      choice(30, 400, 6),
      choice(25, 900, 0, ['cheapest']),
    ];
    const svg = drawSvg(
      sizePicture({
        rig: { name: 'Wren' },
        study: { choices, places: ['Inland'], weatherYears: 3, target: { unservedHours: 0, years: 0.9 } },
        span: 'October',
        weather: { kind: 'climate' },
      } as unknown as Sized),
    );
    const at = new Map(
      [...svg.matchAll(/transform="(?:matrix|translate)\(([^)]*)\)"[^>]*><title>[^<]*?(\d) nights? without/g)].map(
        ([, moved, nights]) => [Number(nights), Number(moved!.split(/[ ,]+/).at(-1))],
      ),
    );
    const [none, three, six] = [0, 3, 6].map((nights) => at.get(nights)!);
    expect((none! - three!) / (none! - six!)).toBeCloseTo(0.5, 2);
    for (const words of [
      'lightest: 10 kg',
      'cheapest: 25 kg',
      'lightest: 1,500',
      'cheapest: 900',
      'nights without power',
    ])
      expect(svg).toContain(`>${words}`);
    expect(svg).not.toContain('1,500.0');
  });
});
