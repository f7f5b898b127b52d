import { Worker } from 'node:worker_threads';

export interface PoolOptions<Row> {
  /** script that posts 'ready' once it has begun, then answers each `{ from, to }` with an array of rows */
  readonly script: URL;
  readonly workerData: unknown;
  readonly workers: number;
  /** items, `to` not included, handed out so many at a time */
  readonly from: number;
  readonly to: number;
  readonly chunk: number;
  /** the row of an item whose worker stopped while it had nothing else to do */
  readonly stopped: (item: number, why: string) => Row;
}

interface Job {
  readonly from: number;
  readonly to: number;
}

/** Chunks a worker may be ahead of the one that is written next, so that memory stays flat behind a slow one. */
const CHUNKS_AHEAD = 4;

/**
 * Rows made by worker threads, in the order of their items whatever the number of workers. A worker that stops is replaced;
 * what it had in hand is done again item by item, and the item at which a worker stops again has a row that says so.
 * @throws Error when a worker cannot even begin
 */
export async function* rowsInOrder<Row>(options: PoolOptions<Row>): AsyncGenerator<readonly Row[], void, void> {
  const pool = new Pool(options);
  try {
    yield* pool.rows();
  } finally {
    await pool.close();
  }
}

class Pool<Row> {
  private readonly lanes = new Set<Lane>();
  /** done and not yet taken, by its first item */
  private readonly done = new Map<number, readonly Row[]>();
  private readonly again: Job[] = [];
  private handedOut: number;
  private taken: number;
  private failure: Error | undefined;
  private isClosed = false;
  private wake = () => {};

  constructor(private readonly options: PoolOptions<Row>) {
    this.handedOut = this.taken = options.from;
  }

  async *rows(): AsyncGenerator<readonly Row[], void, void> {
    const { from, to, chunk, workers } = this.options;
    const useful = Math.min(workers, Math.ceil((to - from) / chunk));
    for (let i = 0; i < useful; i++) this.open();
    while (this.taken < to) {
      const rows = this.done.get(this.taken);
      if (rows) {
        this.done.delete(this.taken);
        this.taken += rows.length;
        for (const lane of this.lanes) this.feed(lane);
        yield rows;
      } else if (this.failure) throw this.failure;
      else
        await new Promise<void>((resolve) => {
          this.wake = resolve;
        });
    }
  }

  async close(): Promise<void> {
    this.isClosed = true;
    await Promise.all([...this.lanes].map(({ worker }) => worker.terminate()));
  }

  private open(): void {
    const { script, workerData } = this.options;
    const lane: Lane = { worker: new Worker(script, { workerData }), isReady: false, job: undefined, why: '' };
    this.lanes.add(lane);
    lane.worker.on('message', (message: 'ready' | readonly Row[]) => {
      if (message === 'ready') lane.isReady = true;
      else {
        this.done.set(lane.job!.from, message);
        lane.job = undefined;
        this.wake();
      }
      this.feed(lane);
    });
    lane.worker.on('error', (error: unknown) => {
      lane.why = error instanceof Error ? error.message : String(error);
    });
    lane.worker.on('exit', (code) => {
      this.lanes.delete(lane);
      if (!this.isClosed) this.replace(lane, lane.why || `exit code ${code}`);
      this.wake();
    });
  }

  private replace({ isReady, job }: Lane, why: string): void {
    if (!isReady) {
      this.failure ??= new Error(`a worker could not begin: ${why}`);
      return;
    }
    if (job && job.to - job.from === 1) this.done.set(job.from, [this.options.stopped(job.from, why)]);
    else if (job) for (let from = job.from; from < job.to; from++) this.again.push({ from, to: from + 1 });
    this.open();
  }

  private feed(lane: Lane): void {
    if (!lane.isReady || lane.job || this.isClosed) return;
    lane.job = this.again.shift() ?? this.nextJob();
    if (lane.job) lane.worker.postMessage(lane.job);
  }

  private nextJob(): Job | undefined {
    const { to, chunk, workers } = this.options;
    if (this.handedOut >= to || this.handedOut - this.taken >= chunk * workers * CHUNKS_AHEAD) return undefined;
    const from = this.handedOut;
    this.handedOut = Math.min(to, from + chunk);
    return { from, to: this.handedOut };
  }
}

interface Lane {
  readonly worker: Worker;
  isReady: boolean;
  job: Job | undefined;
  /** why it stopped */
  why: string;
}
