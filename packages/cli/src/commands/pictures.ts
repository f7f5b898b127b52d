import { Readable } from 'node:stream';
import { InvalidArgumentError, Option } from 'commander';
import type { Io, Sink } from '../io.js';
import type { Chart } from '../show/charts/chart.js';
import type { Page } from '../show/page/page.js';

/** What people look at, beside the result. */
export interface PictureOptions {
  readonly plot?: string;
  readonly report?: string;
}

/** @param what of the command the picture shows: "the months" */
export const plotOption = (what: string) =>
  new Option('--plot <file>', `draw ${what} as FILE.svg or FILE.png; - prints the SVG`).argParser((path: string) =>
    ending(path, ['.svg', '.png'], 'A picture is written as .svg or .png, such as --plot picture.svg.'),
  );

export const reportOption = () =>
  new Option('--report <file>', 'write a page for people as FILE.html; - prints it').argParser((path: string) =>
    ending(
      path,
      ['.html', '.htm'],
      'A report is written as .html, such as --report page.html; a browser prints it to PDF.',
    ),
  );

function ending(path: string, allowed: readonly string[], otherwise: string): string {
  if (path === '-' || allowed.some((one) => path.toLowerCase().endsWith(one))) return path;
  throw new InvalidArgumentError(otherwise);
}

/** Writes the picture and the page that were asked for. What draws them is loaded only then. */
export async function deliverPictures(
  io: Io,
  sinks: Readonly<Partial<Record<'--plot' | '--report', Sink>>>,
  quiet: boolean,
  made: { readonly plot: () => Chart; readonly page: () => Page },
): Promise<void> {
  const { '--plot': plot, '--report': report } = sinks;
  if (plot !== undefined) await deliverPlot(io, plot, quiet, made.plot());
  if (report !== undefined) {
    const { pageHtml } = await import('../show/page/write.js');
    await io.write(report, pageHtml(made.page()), { quiet });
  }
}

/** Writes a picture as its file's ending says. */
export async function deliverPlot(io: Io, sink: Sink, quiet: boolean, chart: Chart): Promise<void> {
  const { drawSvg } = await import('../show/charts/draw.js');
  const svg = drawSvg(chart);
  if (sink === 'stdout' || !sink.path.toLowerCase().endsWith('.png')) return io.write(sink, svg, { quiet });
  const { pngOf } = await import('../show/charts/png.js');
  return io.write(sink, Readable.from([await pngOf(svg)]), { quiet });
}
