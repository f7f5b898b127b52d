import { type ChildProcess, fork } from 'node:child_process';
import type { Ask, Tried } from './protocol.js';

export interface LaneLimits {
  /** an input that takes longer is a fault, and its process is ended [ms] */
  readonly maxMs: number;
  /** of the process after an input [MB] */
  readonly maxMb: number;
}

/** One process that tries inputs. Whatever an input does to it, the next one is tried in a process that is well. */
export class Lane {
  private child: ChildProcess | undefined;

  constructor(
    private readonly script: string,
    private readonly root: string,
    private readonly limits: LaneLimits,
  ) {}

  async try(ask: Ask): Promise<Tried> {
    const child = this.child ?? this.open();
    const { maxMs, maxMb } = this.limits;
    const tried = await new Promise<Tried>((resolve) => {
      const settle = (result: Tried) => {
        clearTimeout(timer);
        child.off('message', settle);
        child.off('exit', ended);
        resolve(result);
      };
      const lost = (fault: string) => settle({ ms: maxMs, refused: false, rssMb: 0, fault });
      const ended = (code: number | null, signal: string | null) => lost(`the process ended: ${signal ?? code}`);
      const timer = setTimeout(() => {
        child.off('exit', ended);
        this.close();
        lost(`no end after ${maxMs / 1000} s`);
      }, maxMs);
      child.on('message', settle);
      child.on('exit', ended);
      child.send(ask);
    });
    if (child.exitCode !== null || child.signalCode !== null) this.child = undefined;
    if (tried.rssMb <= maxMb) return tried;
    this.close();
    return { fault: `the process grew to ${tried.rssMb.toFixed(0)} MB`, ...tried };
  }

  close(): void {
    this.child?.kill('SIGKILL');
    this.child = undefined;
  }

  private open(): ChildProcess {
    this.child = fork(this.script, [this.root], {
      execArgv: ['--max-old-space-size=512'],
      stdio: ['ignore', 'ignore', 'ignore', 'ipc'],
    });
    return this.child;
  }
}
