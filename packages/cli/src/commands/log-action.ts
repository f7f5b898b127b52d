import {
  isUnsorted,
  type LogColumnName,
  type LogOptions,
  type LogReading,
  type RowAccount,
  tidyHeader,
  tidyLine,
} from '@stayput/core';
import { EXIT, InputError } from '../failure.js';
import { createLineSink, type LineSink } from '../files/line-sink.js';
import type { Io, Sink } from '../io.js';
import { logPicture } from '../show/charts/log-picture.js';
import { jsonText } from '../show/json.js';
import { logText } from '../show/log-text.js';
import { logPage } from '../show/page/log-page.js';
import { ROW_REASON_WORDS, shownReading } from '../words/log-words.js';
import { deliver } from './deliver.js';
import type { LogCommandOptions } from './given.js';
import { readerOptions, readOnce } from './log-read.js';
import { deliverPictures } from './pictures.js';

export async function runLog(io: Io, path: string, options: LogCommandOptions): Promise<number> {
  const { quiet = false } = options;
  const wanted = readerOptions(io, path, options);
  const { result, tidy, rejects, plot, report } = await claimAll(io, path, options);
  const attempt = (how: LogOptions) => readAndWrite(io, path, how, { tidy, rejects, quiet });
  const reading = await attempt(wanted).catch((error: unknown) => {
    // what has gone to standard output cannot be taken back, and what came from standard input is gone
    if (!isUnsorted(error) || path === '-' || tidy === 'stdout' || rejects === 'stdout') throw error;
    return attempt({ ...wanted, sort: true });
  });

  if (plot ?? report) {
    const picture = logPicture(reading);
    if (plot && picture === undefined)
      throw new InputError('--plot draws each day, and this log has neither charge nor voltage nor current');
    const sinks = { ...(plot && { '--plot': plot }), ...(report && { '--report': report }) };
    await deliverPictures(io, sinks, quiet, { plot: () => picture!, page: () => logPage(reading) });
  }
  const isTaken = [tidy, rejects, plot, report].includes('stdout') && result === 'stdout';
  if (!isTaken)
    await deliver(io, result, options, {
      json: () => jsonText(logDocument(wanted.file!, reading)),
      text: (shownBy) => logText({ file: wanted.file!, reading, quiet }, shownBy),
    });
  return reading.shortfall === undefined ? EXIT.done : EXIT.targetMissed;
}

async function readAndWrite(
  io: Io,
  path: string,
  options: LogOptions,
  { tidy, rejects, quiet }: { tidy: Sink | undefined; rejects: Sink | undefined; quiet: boolean },
): Promise<LogReading> {
  const tidyLines = tidy && createLineSink();
  const rejectLines = rejects && createLineSink();
  const sinks = [tidyLines, rejectLines].filter((sink) => sink !== undefined);
  rejectLines?.add('line,outcome,reason,row');
  const read = async () => {
    const reading = await readOnce(io, path, options, {
      ...(tidyLines && {
        onColumns: (columns: readonly LogColumnName[]) => tidyLines.add(tidyHeader(columns)),
        onRow: (row) => tidyLines.add(tidyLine(row)),
      }),
      ...(rejectLines && { onAccount: (account) => rejectLines.add(accountLine(account)) }),
      drain: async () => {
        for (const sink of sinks) await sink.drain();
      },
    });
    for (const sink of sinks) sink.end();
    return reading;
  };
  const written = [
    tidy && io.write(tidy, tidyLines!.stream, { quiet, what: 'tidy log' }),
    rejects && io.write(rejects, rejectLines!.stream, { quiet, what: 'rows corrected and rejected' }),
  ];
  return together(read(), written, sinks);
}

/** Reading and writing at once: whatever fails first ends all of it, and is what is told. */
async function together(
  reading: Promise<LogReading>,
  written: readonly (Promise<void> | undefined)[],
  sinks: readonly LineSink[],
): Promise<LogReading> {
  const stop = (error: Error) => {
    for (const sink of sinks) sink.fail(error);
    throw error;
  };
  const [read, ...outcomes] = await Promise.allSettled([
    reading.catch(stop),
    ...written.map((one) => one?.catch(stop)),
  ]);
  // a writer that failed by the reader's error has the same to say
  if (read!.status === 'rejected') {
    const disk = outcomes.find((one) => one.status === 'rejected' && one.reason instanceof InputError);
    throw disk?.status === 'rejected' ? disk.reason : read!.reason;
  }
  for (const one of outcomes) if (one.status === 'rejected') throw one.reason;
  return read!.value as LogReading;
}

async function claimAll(io: Io, path: string, options: LogCommandOptions) {
  const { out = '-', force = false, json = false } = options;
  const claim = (name: string | undefined) =>
    name === undefined ? undefined : io.claim(name, { force, inputs: [path] });
  const result = (await claim(out))!;
  const tidy = await claim(options.tidy);
  const rejects = await claim(options.rejects);
  const plot = await claim(options.plot);
  const report = await claim(options.report);
  const named = [
    ['--out', json || options.out !== undefined ? result : undefined],
    ['--tidy', tidy],
    ['--rejects', rejects],
    ['--plot', plot],
    ['--report', report],
  ] as const;
  const key = (sink: Sink | undefined) => (sink === undefined || sink === 'stdout' ? sink : sink.realPath);
  named.forEach(([option, sink], k) => {
    const twin = named.slice(0, k).find(([, other]) => sink !== undefined && key(other) === key(sink));
    if (twin === undefined || (sink !== 'stdout' && sink?.isDevice)) return;
    throw new InputError(
      sink === 'stdout'
        ? `${twin[0] === '--out' && json ? '--json' : `${twin[0]} -`} and ${option} - would both fill standard output; give one of them a file`
        : `${twin[0]} and ${option} name the same file`,
    );
  });
  return { result, tidy, rejects, plot, report };
}

/** A cell that a spreadsheet would take for a formula begins with an apostrophe: what a stranger's log holds stays text. */
const asText = (text: string) => (/^[=+\-@\t]/.test(text) ? `'${text}` : text);
const quoted = (text: string) => (/[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);

const accountLine = ({ line, outcome, code, text }: RowAccount) =>
  `${line},${outcome},${quoted(ROW_REASON_WORDS[code])},${quoted(asText(text))}`;

/** The JSON document: what the design names first. */
function logDocument(file: string, reading: LogReading) {
  return { command: 'log', file, rig: null, ...shownReading(reading) };
}
