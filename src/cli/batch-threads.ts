/** A few threads that share a list of variants: each takes the next one when it is done with its own. */
import { Worker } from 'node:worker_threads';
import type { Task, ThreadSetting, Told } from './batch-thread.ts';

/** A fault of the tool while it made one variant; the others go on. */
export interface Fault {
  readonly index: number;
  readonly message: string;
  /** Of the file system, if it was that. */
  readonly code?: string;
}

export interface Running {
  /** Settles when every task is done, or all threads are stopped. */
  readonly ended: Promise<void>;
  /** Ends the threads; what is finished stays. */
  stop(): void;
}

const THREAD = new URL('./batch-thread.ts', import.meta.url).href;
const REGISTER = new URL('../../bin/register.mjs', import.meta.url).href;
/** A thread registers the TypeScript sources first, as the command itself does. */
const BOOT = `import(${JSON.stringify(REGISTER)}).then(() => import(${JSON.stringify(THREAD)}))`;

/**
 * @param count of threads @param setting the same for all of them
 * @param onTold hears of every share, every variant made and every fault
 */
export function runTasks(
  tasks: readonly Task[],
  count: number,
  setting: ThreadSetting,
  onTold: (told: Told) => void,
): Running {
  let next = 0;
  let stopped = false;
  const workers = new Set<Worker>();
  const runner = (): Promise<void> =>
    new Promise((done) => {
      let now: Task | undefined;
      const worker = new Worker(BOOT, { eval: true, workerData: setting });
      workers.add(worker);
      const take = () => {
        now = stopped ? undefined : tasks[next++];
        if (now) worker.postMessage(now);
        else void worker.terminate();
      };
      worker.on('message', (told: Told) => {
        if (told.kind !== 'share') now = undefined;
        onTold(told);
        if (told.kind !== 'share') take();
      });
      let why = 'its thread ended early';
      worker.on('error', (fault) => {
        why = fault.message;
      });
      // A thread that breaks down (out of memory, say) loses its variant; another thread takes its place.
      worker.on('exit', () => {
        workers.delete(worker);
        if (now && !stopped) onTold({ kind: 'fault', index: now.index, message: why });
        if (stopped || next >= tasks.length) done();
        else void runner().then(done);
      });
      take();
    });
  const ended = Promise.all(Array.from({ length: Math.min(count, tasks.length) }, runner)).then(() => undefined);
  return {
    ended,
    stop: () => {
      stopped = true;
      for (const w of workers) void w.terminate();
    },
  };
}
