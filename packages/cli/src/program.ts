import { Command } from 'commander';
import { addCalibrate } from './commands/calibrate.js';
import { addCheck } from './commands/check.js';
import { addCompare } from './commands/compare.js';
import { addLog } from './commands/log.js';
import { addNew } from './commands/new.js';
import { addPage } from './commands/page.js';
import { addReport } from './commands/report.js';
import { addSimulate } from './commands/simulate.js';
import { addSize } from './commands/size.js';
import { addStay } from './commands/stay.js';
import { addSweep } from './commands/sweep.js';
import { addTonight } from './commands/tonight.js';
import { addWires } from './commands/wires.js';
import { addYield } from './commands/yield.js';
import { wordCallErrors } from './help/call-errors.js';
import { addGenerated } from './help/completion.js';
import { addExamples } from './help/examples.js';
import { addHelp } from './help/help.js';
import type { Io } from './io.js';

/** Written in by build.js from package.json. */
declare const STAYPUT_VERSION: string;

export function buildProgram(io: Io): Command {
  const program = new Command('stayput')
    .description('How long can we stay put on 12 V, and what would it take to stay longer?')
    .version(STAYPUT_VERSION, '-V, --version', 'print the version')
    .helpOption('-h, --help', 'print help')
    .exitOverride()
    .configureHelp({ minWidthToWrap: 16 })
    .configureOutput({
      writeErr: (text) => io.tell(text.trimEnd().replace(/^error: /, 'stayput: ')),
      writeOut: (text) => void io.print(text),
      getOutHelpWidth: () => io.terminal.width,
      getErrHelpWidth: () => io.terminal.width,
    });
  addNew(program, io);
  addCheck(program, io);
  addSimulate(program, io);
  addStay(program, io);
  addTonight(program, io);
  addYield(program, io);
  addSize(program, io);
  addSweep(program, io, STAYPUT_VERSION);
  addWires(program, io);
  addReport(program, io);
  addPage(program, io, STAYPUT_VERSION);
  addLog(program, io);
  addCompare(program, io);
  addCalibrate(program, io);
  program.addHelpText(
    'after',
    '\nTo begin:\n  stayput new --out rig.yaml\n  stayput check rig.yaml\n  stayput simulate rig.yaml --place Porto --days 14',
  );
  addGenerated(program, io, STAYPUT_VERSION);
  addHelp(program, io);
  addExamples(program);
  wordCallErrors(program);
  return program;
}
