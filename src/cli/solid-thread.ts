/** The solid in a thread of its own, so that it grows while the main thread plans. */
import { isMainThread, parentPort, Worker, workerData } from 'node:worker_threads';
import { type SolidFiles, type SolidMaker, solidHere } from '../build/solid-files.ts';
import type { Part } from '../part.ts';
import { resolvePart } from '../resolve.ts';

/** Starts the thread; it registers the TypeScript sources first, as the command itself does. */
export const solidThread: SolidMaker = (part) =>
  new Promise<SolidFiles>((resolve, reject) => {
    const boot = `import(${JSON.stringify(new URL('../../bin/register.mjs', import.meta.url).href)}).then(() => import(${JSON.stringify(import.meta.url)}))`;
    const worker = new Worker(boot, { eval: true, workerData: { part } });
    worker.once('message', (files: SolidFiles) => resolve(files));
    worker.once('error', reject);
    worker.once('exit', (code) => reject(new Error(`the solid's thread ended early with code ${code}`)));
  });

if (!isMainThread && parentPort) {
  const { part } = workerData as { part: Part };
  const { job } = resolvePart(part);
  if (!job) throw new Error('a part that was resolved no longer resolves');
  const files = await solidHere()(part, job.field);
  parentPort.postMessage(files, [files.stl.buffer as ArrayBuffer, files.threemf.buffer as ArrayBuffer]);
}
