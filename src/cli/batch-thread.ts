/** Runs in a thread: makes one variant after another and writes each into the output folder. */
import { isMainThread, parentPort, workerData } from 'node:worker_threads';
import type { Variant } from '../batch/line.ts';
import { makeVariant } from '../batch/make-variant.ts';
import { solidHere } from '../build/solid-files.ts';
import { storeVariant } from './batch-store.ts';

/** What a thread is given at its start. */
export interface ThreadSetting {
  readonly out: string;
}
export interface Task {
  readonly index: number;
  readonly variant: Variant;
  readonly key: string;
}
export type Told =
  | { readonly kind: 'share'; readonly index: number; readonly share: number }
  | { readonly kind: 'made'; readonly index: number; readonly seconds: number }
  | { readonly kind: 'fault'; readonly index: number; readonly message: string; readonly code?: string };

/** Telling more often than this only keeps the main thread busy, ms. */
const TELL_EVERY = 100;

async function make({ index, variant, key }: Task, out: string, tell: (told: Told) => void): Promise<void> {
  const began = performance.now();
  let last = began;
  const { made, files } = await makeVariant(variant, {
    solid: solidHere(),
    onProgress: (share) => {
      const now = performance.now();
      if (now - last > TELL_EVERY) {
        last = now;
        tell({ kind: 'share', index, share });
      }
      return true;
    },
  });
  storeVariant(out, { made, files }, key);
  tell({ kind: 'made', index, seconds: (performance.now() - began) / 1000 });
}

if (!isMainThread && parentPort) {
  const port = parentPort;
  const { out } = workerData as ThreadSetting;
  port.on('message', (task: Task) => {
    make(task, out, (told) => port.postMessage(told)).catch((fault: unknown) => {
      const message = fault instanceof Error ? fault.message : String(fault);
      const { code } = fault as NodeJS.ErrnoException;
      port.postMessage({ kind: 'fault', index: task.index, message, ...(code ? { code } : {}) } satisfies Told);
    });
  });
}
