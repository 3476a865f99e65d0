/** The world around the store, in a browser: workers that can be dropped, a clock, the browser's database. */
import { proxy, type Remote, wrap } from 'comlink';
import type { BuildResult, FitResult, Raw, SolidResult } from '../state/contract.ts';
import { browserStorage } from '../state/storage.ts';
import { templateTexts } from '../state/templates.ts';
import type { Services, Work } from '../state/workshop.ts';
import type { BuildApi } from './build.worker.ts';
import type { FitApi } from './fit.worker.ts';
import type { SolidApi } from './solid.worker.ts';

/** A worker kept warm. Stopping work in it ends the thread, at once and in the middle of anything; a fresh one takes its place. */
export function thread<Api>(start: () => Worker) {
  let worker: Worker | undefined;
  let api: Remote<Api> | undefined;
  return {
    get(): Remote<Api> {
      worker ??= start();
      api ??= wrap<Api>(worker);
      return api;
    },
    drop() {
      worker?.terminate();
      worker = undefined;
      api = undefined;
    },
  };
}

/** One piece of work in a thread; dropping it while it runs ends the thread. @param name under which the browser's timeline keeps how long it took */
export function work<Api, T>(
  name: string,
  on: ReturnType<typeof thread<Api>>,
  run: (api: Remote<Api>) => Promise<T>,
): Work<T> {
  let running = true;
  const start = performance.now();
  const result = run(on.get()).finally(() => {
    running = false;
    performance.measure(name, { start });
  });
  return {
    result,
    stop: () => {
      if (running) on.drop();
    },
  };
}

/** What the page asks for beside what the store needs. */
export interface PageServices extends Services {
  /** The solid as files, proven or not: it does no harm. @returns names with contents */
  solidFiles(raw: Raw): Work<[string, Uint8Array | string][]>;
  /** The program that takes cutting up again at a pass of a proven document. @param pass its restart number */
  restart(raw: Raw, pass: number): Work<{ file: string; text: string }>;
}

export function browserServices(): PageServices {
  const solids = thread<SolidApi>(() => new Worker(new URL('./solid.worker.ts', import.meta.url), { type: 'module' }));
  const builds = thread<BuildApi>(() => new Worker(new URL('./build.worker.ts', import.meta.url), { type: 'module' }));
  const fits = thread<FitApi>(() => new Worker(new URL('./fit.worker.ts', import.meta.url), { type: 'module' }));
  return {
    fit: (raw: Raw) => work('fit', fits, (api) => api.fit(raw) as Promise<FitResult>),
    solid: (raw: Raw) => work('solid', solids, (api) => api.solid(raw) as Promise<SolidResult>),
    solidFiles: (raw: Raw) =>
      work('solid files', solids, (api) => api.entries(raw) as Promise<[string, Uint8Array | string][]>),
    restart: (raw: Raw, pass: number) => work('restart', builds, (api) => api.restart(raw, pass)),
    build: (raw: Raw, onProgress) =>
      work('build', builds, (api) => api.build(raw, proxy(onProgress)) as Promise<BuildResult>),
    storage: browserStorage(),
    templates: templateTexts,
    now: () => Date.now(),
    newId: () => crypto.randomUUID(),
    later: (ms, run) => {
      const timer = setTimeout(run, ms);
      return () => clearTimeout(timer);
    },
  };
}
