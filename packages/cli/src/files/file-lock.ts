import { linkSync, readFileSync, renameSync, unlinkSync, writeFileSync } from 'node:fs';
import { lstat, realpath, stat } from 'node:fs/promises';
import { hostname } from 'node:os';
import { basename, dirname, join } from 'node:path';
import { setTimeout as delay } from 'node:timers/promises';
import { InputError } from '../failure.js';
import { isRunning, keepUnfinished, writeFailure } from './write-file.js';

/** Keeps a growing file to one process: a file beside it says which. */
export interface FileLock {
  /** a process that no longer runs had left its lock, which was taken over: what to tell */
  readonly takenOver: string | undefined;
  release(): void;
}

interface Owner {
  readonly pid: number;
  readonly host: string;
  readonly since: string;
}

const MAX_TRIES = 5;
const MS_BETWEEN_TRIES = 20;

/**
 * Locks a file that is to grow, also before it exists. The lock of a process on this machine that no longer runs is taken over.
 * @returns undefined where nothing can be locked: a device
 * @throws InputError when another process holds it, with its number, age and what to do
 */
export async function lockFile(path: string): Promise<FileLock | undefined> {
  const existing = await stat(path).catch(() => undefined);
  // A link that leads nowhere; not a file that another process has created since `stat` looked.
  const own = existing === undefined ? await lstat(path).catch(() => undefined) : undefined;
  if (own?.isSymbolicLink() || (existing !== undefined && !existing.isFile())) return undefined;
  const folder = await realpath(dirname(path)).catch(() => undefined);
  if (folder === undefined || path === '') return undefined; // what claims the file says so
  const real = existing ? await realpath(path) : join(folder, basename(path));
  const lock = join(dirname(real), `.${basename(real)}.lock`);
  let takenOver: string | undefined;
  for (let tries = 0; tries < MAX_TRIES; tries++) {
    if (create(lock, path)) {
      const forget = keepUnfinished(lock);
      return {
        takenOver,
        release() {
          forget();
          remove(lock);
        },
      };
    }
    const owner = ownerOf(lock);
    if (owner === undefined) {
      // Gone meanwhile; or not yet written to its end, on a disk without links.
      await delay(MS_BETWEEN_TRIES);
      continue;
    }
    // its own number too: in a container every run may have the same
    const isGone = owner.host === hostname() && (owner.pid === process.pid || !isRunning(owner.pid));
    if (!isGone)
      throw new InputError(
        `${path} is being written by process ${owner.pid}${owner.host === hostname() ? '' : ` on ${owner.host}`}, for ${ageText(owner)}: wait for it, or name another file with --out${owner.host === hostname() ? '' : `; if that process is gone, delete ${lock}`}`,
      );
    if (stealsFrom(lock, owner))
      takenOver = `process ${owner.pid} left its lock on ${path} ${ageText(owner)} ago and no longer runs: taken over`;
  }
  throw new InputError(
    `${path} is being written by another process: wait for it, or name another file with --out (its lock is ${lock})`,
  );
}

/**
 * Writes the lock aside and links it into place, so that nobody ever reads half of it.
 * @returns false when there is one already
 */
function create(lock: string, path: string): boolean {
  const owner: Owner = { pid: process.pid, host: hostname(), since: new Date().toISOString() };
  const aside = `${lock}.${process.pid}`;
  try {
    writeFileSync(aside, JSON.stringify(owner));
    try {
      linkSync(aside, lock);
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code === 'EEXIST') return false;
      writeFileSync(lock, JSON.stringify(owner), { flag: 'wx' }); // a disk without links
    }
    return true;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'EEXIST') return false;
    throw writeFailure(error as NodeJS.ErrnoException, path);
  } finally {
    remove(aside);
  }
}

function ownerOf(lock: string): Owner | undefined {
  try {
    const { pid, host, since } = JSON.parse(readFileSync(lock, 'utf8')) as Partial<Owner>;
    return typeof pid === 'number' && typeof host === 'string' && typeof since === 'string'
      ? { pid, host, since }
      : undefined;
  } catch {
    return undefined;
  }
}

/** Takes a dead lock away, and gives it back if another process was faster and the lock is its own by now. */
function stealsFrom(lock: string, owner: Owner): boolean {
  const aside = `${lock}.${process.pid}`;
  try {
    renameSync(lock, aside);
  } catch {
    return false;
  }
  const taken = ownerOf(aside);
  const isRight = taken?.pid === owner.pid && taken.since === owner.since;
  if (!isRight)
    try {
      linkSync(aside, lock);
    } catch {
      // a third process has it
    }
  remove(aside);
  return isRight;
}

function remove(path: string): void {
  try {
    unlinkSync(path);
  } catch {
    // Already gone.
  }
}

function ageText({ since }: Owner): string {
  const seconds = Math.max(0, (Date.now() - Date.parse(since)) / 1000);
  if (seconds < 90) return `${Math.round(seconds)} s`;
  if (seconds < 5400) return `${Math.round(seconds / 60)} min`;
  return seconds < 172_800 ? `${Math.round(seconds / 3600)} h` : `${Math.round(seconds / 86_400)} days`;
}
