/** Work that can pause: a generator that yields wherever it may be interrupted, and returns its result. */
export type Task<T> = Generator<undefined, T, undefined>;

/** What is looked at of an `AbortSignal`. */
export interface StopSignal {
  readonly aborted: boolean;
  readonly reason: unknown;
}

/** What every long call takes. */
export interface TaskOptions {
  /** an `AbortSignal`: when it is aborted, the call throws its reason at the next pause */
  readonly signal?: StopSignal;
}

/** So long without a pause is short for a page, which wants 50, and long beside what a pause costs [ms]. */
const SLICE_MS = 12;

/** Works to the end without letting anything else run. @throws the signal's reason once it is aborted */
export function finish<T>(task: Task<T>, signal?: StopSignal): T {
  for (;;) {
    if (signal?.aborted) throw signal.reason;
    const { done, value } = task.next();
    if (done) return value;
  }
}

/**
 * Works to the end in slices of some 12 ms, and lets the event loop turn between them: a page stays alive, a signal is heard.
 * @throws the signal's reason once it is aborted
 */
export async function finishInSlices<T>(task: Task<T>, signal?: StopSignal): Promise<T> {
  const { nowMs, turn } = eventLoop();
  for (let began = nowMs(); ; ) {
    if (signal?.aborted) throw signal.reason;
    const { done, value } = task.next();
    if (done) return value;
    if (nowMs() - began < SLICE_MS) continue;
    await turn();
    began = nowMs();
  }
}

/** What every host of JavaScript has under one name or another, and the language itself does not know. */
interface Host {
  readonly performance?: { now(): number };
  readonly setImmediate?: (run: () => void) => unknown;
  readonly setTimeout?: (run: () => void, ms: number) => unknown;
  readonly MessageChannel?: new () => {
    readonly port1: { onmessage: (() => void) | null; close(): void };
    readonly port2: { postMessage(message: unknown): void };
  };
}

function eventLoop(): { nowMs: () => number; turn: () => Promise<void> } {
  const { performance, setImmediate, MessageChannel, setTimeout } = globalThis as unknown as Host;
  const nowMs = performance ? () => performance.now() : Date.now;
  if (setImmediate) return { nowMs, turn: () => new Promise((resolve) => setImmediate(resolve)) };
  // A page's timers wait 4 ms once they follow each other; a message does not.
  if (MessageChannel)
    return {
      nowMs,
      turn: () =>
        new Promise((resolve) => {
          const { port1, port2 } = new MessageChannel();
          port1.onmessage = () => {
            port1.close();
            resolve();
          };
          port2.postMessage(0);
        }),
    };
  if (setTimeout) return { nowMs, turn: () => new Promise((resolve) => setTimeout(resolve, 0)) };
  return { nowMs, turn: () => Promise.resolve() };
}
