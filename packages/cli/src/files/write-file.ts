import { createWriteStream, unlinkSync } from 'node:fs';
import { access, chmod, constants, link, readdir, readlink, realpath, rename, stat, unlink } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { InputError } from '../failure.js';

/** A file that may be written: checked before the work begins, so that nothing is written when one of several may not. */
export interface WriteTarget {
  /** as the user named it */
  readonly path: string;
  readonly realPath: string;
  /** a terminal, a pipe or another device: written straight, for it cannot be replaced */
  readonly isDevice: boolean;
  readonly force: boolean;
  readonly mode?: number;
}

const unfinished = new Set<string>();
let devices = 0;

/** Whether a pipe or a device is being written, which may wait for its reader for ever, and keep the program from its exit. */
export const isDeviceWaiting = (): boolean => devices > 0;

/** Removes what is half-written; for signals, hence not asynchronous. */
export function removeUnfinished(): void {
  for (const path of unfinished)
    try {
      unlinkSync(path);
    } catch {
      // Already gone: that is what was wanted.
    }
  unfinished.clear();
}

/** Has a file removed should a signal end the program. @returns what takes that back */
export function keepUnfinished(path: string): () => void {
  unfinished.add(path);
  return () => void unfinished.delete(path);
}

/**
 * @param inputs files that are read in this run and must not be replaced by it
 * @throws InputError when the file exists and `force` is not set, is a folder, is an input, or its folder is missing or may not be
 * written in
 */
export async function claimFile(path: string, force: boolean, inputs: readonly string[]): Promise<WriteTarget> {
  if (path === '') throw new InputError('an output has an empty name; give it a file name, or - for standard output');
  const existing = await stat(path).catch(() => undefined);
  if (existing === undefined) {
    const link = await readlink(path).catch(() => undefined);
    if (link !== undefined)
      throw new InputError(
        `${path} is a link to ${link}, which is not there; name the file itself, or remove the link`,
      );
    const folder = dirname(path);
    const parent = await stat(folder).catch(() => undefined);
    if (!parent?.isDirectory()) throw new InputError(`${path} cannot be written: there is no folder ${folder}`);
    await mayWriteIn(folder, path);
    return { path, realPath: join(await realpath(folder), basename(path)), isDevice: false, force };
  }
  if (existing.isDirectory()) throw new InputError(`${path} is a folder; name a file in it`);
  const realPath = await realpath(path);
  if (!existing.isFile()) return { path, realPath, isDevice: true, force };
  for (const input of inputs)
    if (input !== '-' && (await realpath(input).catch(() => undefined)) === realPath)
      throw new InputError(`${path} is read by this command, so it is not written over; name another file`);
  if (!force) throw new InputError(`${path} exists already and is left as it is; --force replaces it`);
  await mayWriteIn(dirname(realPath), path);
  return { path, realPath, isDevice: false, force, mode: existing.mode };
}

/** Asked before the work, which may be long: the file is written beside its place and moved there, so its folder must take it. */
async function mayWriteIn(folder: string, path: string): Promise<void> {
  await access(folder, constants.W_OK).catch((error: NodeJS.ErrnoException) => {
    throw writeFailure(error, path);
  });
}

/** Writes the whole file beside its place and moves it there, so that it appears whole or not at all. */
export async function writeWhole(target: WriteTarget, content: string | Readable): Promise<void> {
  const source = typeof content === 'string' ? Readable.from([content]) : content;
  try {
    if (target.isDevice) {
      devices++;
      await pipeline(source, createWriteStream(target.realPath)).finally(() => devices--);
      return;
    }
    const temporary = await clearedPart(target.realPath);
    unfinished.add(temporary);
    try {
      await pipeline(source, createWriteStream(temporary, { flags: 'wx', flush: true }));
      if (target.mode !== undefined) await chmod(temporary, target.mode);
      await moveInto(temporary, target);
    } finally {
      // only this one: another file may be under way beside it
      unfinished.delete(temporary);
      await unlink(temporary).catch(() => {});
    }
  } catch (error) {
    throw writeFailure(error as NodeJS.ErrnoException, target.path);
  }
}

/** The name of the half-written file, once those are gone that a killed run left of the same file. */
async function clearedPart(realPath: string): Promise<string> {
  const [folder, name] = [dirname(realPath), basename(realPath)];
  for (const entry of await readdir(folder).catch(() => [])) {
    if (!entry.startsWith(`.${name}.`) || !entry.endsWith('.part')) continue;
    const pid = entry.slice(name.length + 2, -'.part'.length);
    // its own number too: in a container every run may have the same
    if (/^\d+$/.test(pid) && (Number(pid) === process.pid || !isRunning(Number(pid))))
      await unlink(join(folder, entry)).catch(() => {});
  }
  return join(folder, `.${name}.${process.pid}.part`);
}

/** Whether a process of this machine runs. */
export function isRunning(pid: number): boolean {
  try {
    process.kill(pid, 0); // asks, and sends nothing
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'EPERM';
  }
}

async function moveInto(temporary: string, { path, realPath, force }: WriteTarget): Promise<void> {
  if (force) return rename(temporary, realPath);
  const appeared = () => new InputError(`${path} has appeared meanwhile and is left as it is; --force replaces it`);
  try {
    await link(temporary, realPath); // unlike a rename, never replaces
    await unlink(temporary);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'EEXIST') throw appeared();
    // A file system without hard links: look, then move.
    if (
      await access(realPath).then(
        () => true,
        () => false,
      )
    )
      throw appeared();
    await rename(temporary, realPath);
  }
}

/** What a disk that takes no more says of itself. */
export const FULL: Readonly<Record<string, string>> = {
  ENOSPC: 'the disk is full',
  EDQUOT: 'your share of the disk is full',
  EFBIG: 'the file may not grow so large',
};

/** What kept a file from being written, in words; faults that are not the disk's stay as they are. */
export function writeFailure(error: NodeJS.ErrnoException, path: string): Error {
  const { code, syscall } = error;
  const refuse = (why: string) => new InputError(`${path} cannot be written: ${why}`);
  if (code === undefined || syscall === undefined) return error;
  if (FULL[code] !== undefined) return refuse(`${FULL[code]}; make room, or name a file elsewhere`);
  switch (code) {
    case 'EACCES':
    case 'EPERM':
    case 'EROFS':
      return refuse('you may not write in its folder');
    case 'ENAMETOOLONG':
      return refuse('its name is too long');
    case 'ENOENT':
      return refuse('its folder is gone');
    default:
      return refuse(error.message);
  }
}
