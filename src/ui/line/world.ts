/** The line's threads in a browser, and the one line that the page has. */
import { proxy } from 'comlink';
import { useStore } from 'zustand';
import { slugOf } from '../../build/slug.ts';
import type { Work } from '../state/workshop.ts';
import { thread, work } from '../workers/services.ts';
import type { LineApi } from './line.worker.ts';
import { createLine, type Line, type LineActions, type LineWorld, type MadeRow } from './session.ts';

/** More would only take the cores from each other and from the page. */
const THREADS = 2;

function lineWorld(): LineWorld {
  const start = () => new Worker(new URL('./line.worker.ts', import.meta.url), { type: 'module' });
  const free = Array.from({ length: THREADS }, () => thread<LineApi>(start));
  const packing = thread<LineApi>(start);
  return {
    threads: THREADS,
    make(variant, tell): Work<MadeRow> {
      const on = free.pop();
      if (!on) throw new Error('all threads of the line are at work');
      const { result, stop } = work('variant', on, (api) => api.make(variant, proxy(tell)) as Promise<MadeRow>);
      let given = false;
      const give = () => {
        if (!given) free.push(on);
        given = true;
      };
      return {
        result: result.finally(give),
        // A thread that is ended answers no more: its place is free at once.
        stop: () => {
          stop();
          give();
        },
      };
    },
    async pack(title, made, wanted) {
      try {
        const rows = made.map(({ made: m, files }) => ({ made: m, files }));
        return await packing.get().pack(title, slugOf(title), rows, wanted);
      } finally {
        packing.drop();
      }
    },
  };
}

export const line = createLine(lineWorld());
export const lineActions: LineActions = line.getState();

/** A slice of the line; the component is drawn again when that slice changes. */
export const useLine = <T>(pick: (state: Line & LineActions) => T): T => useStore(line, pick);
