import { parentPort, workerData } from 'node:worker_threads';
import { openSweep, type SweepRequest } from '@stayput/core';

// The entry of a worker thread: see in-order.ts for what is asked and answered.
const sweep = openSweep(workerData as SweepRequest, true);
parentPort!.on('message', ({ from, to }: { readonly from: number; readonly to: number }) =>
  parentPort!.postMessage(sweep.rows(from, to)),
);
parentPort!.postMessage('ready');
