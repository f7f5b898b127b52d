import type { Ask, Told } from './protocol.js';

/** The worker's own script stands in the page as text that is not run there. */
export function startWorker(listen: (told: Told) => void, fail: (message: string) => void): (ask: Ask) => void {
  const source = document.getElementById('worker')!.textContent!;
  const url = URL.createObjectURL(new Blob([source], { type: 'text/javascript' }));
  const worker = new Worker(url);
  worker.onmessage = ({ data }: MessageEvent<Told>) => listen(data);
  worker.onerror = ({ message }) => fail(message);
  return (ask) => worker.postMessage(ask);
}
