/** Undo without limit: every step is the two lists of patches that lead from one document to the next and back. */
import { applyPatches, enablePatches, type Patch, produceWithPatches } from 'immer';
import type { Raw } from './contract.ts';

enablePatches();

/** One step: forward and back. Plain data, so that it can be stored beside the document. */
export interface Delta {
  forward: Patch[];
  back: Patch[];
}

export interface History {
  done: Delta[];
  undone: Delta[];
  /** The gesture that the newest step belongs to; an edit of the same gesture grows that step. */
  gesture: string | undefined;
}

export const emptyHistory = (): History => ({ done: [], undone: [], gesture: undefined });

/**
 * Changes a document.
 * @param recipe alters the draft it is given @param gesture edits that share a word become one step until `settled`
 * @returns the new document and history; the same ones if nothing changed
 */
export function changed(
  raw: Raw,
  history: History,
  recipe: (draft: Raw) => void,
  gesture?: string,
): { raw: Raw; history: History } {
  const [next, forward, back] = produceWithPatches(raw, (draft: Raw) => {
    recipe(draft);
  });
  if (!forward.length) return { raw, history };
  const joins = gesture !== undefined && gesture === history.gesture && history.done.length > 0;
  const before = joins ? history.done.at(-1)! : undefined;
  const step = before
    ? { forward: [...before.forward, ...forward], back: [...back, ...before.back] }
    : { forward, back };
  const done = before ? history.done.slice(0, -1) : history.done;
  return { raw: next, history: { done: [...done, compact(step)], undone: [], gesture } };
}

/** A long drag replaces one value hundreds of times: of consecutive replacements of one path the last suffices. */
function compact(step: Delta): Delta {
  const same = (a: Patch, b: Patch) =>
    a.op === 'replace' && b.op === 'replace' && a.path.join('/') === b.path.join('/');
  const outer = (patches: Patch[]) => patches.filter((p, i) => i === patches.length - 1 || !same(p, patches[i + 1]!));
  return { forward: outer(step.forward), back: outer(step.back) };
}

/** Ends a gesture. @returns history whose next edit is a step of its own */
export const settled = (history: History): History =>
  history.gesture === undefined ? history : { ...history, gesture: undefined };

/** One step back. @returns undefined if there is none */
export function undone(raw: Raw, history: History): { raw: Raw; history: History } | undefined {
  const step = history.done.at(-1);
  if (!step) return undefined;
  return {
    raw: applyPatches(raw, step.back),
    history: { done: history.done.slice(0, -1), undone: [...history.undone, step], gesture: undefined },
  };
}

/** One step forward again. @returns undefined if there is none */
export function redone(raw: Raw, history: History): { raw: Raw; history: History } | undefined {
  const step = history.undone.at(-1);
  if (!step) return undefined;
  return {
    raw: applyPatches(raw, step.forward),
    history: { done: [...history.done, step], undone: history.undone.slice(0, -1), gesture: undefined },
  };
}
