/** Draws what more of a parameter does to an element: the silhouette now, and with a third more. Pure. */
import type { Element } from '../../profiles/elements/registry.ts';
import { elementSchema } from '../../profiles/elements/registry.ts';
import { silhouette } from '../lanes/moulding.ts';
import type { FieldRow } from './fields.ts';

const MORE = 1.33;
const WIDTH = 220;
const HEIGHT = 84;

export interface EffectDrawing {
  now: string;
  more: string;
  width: number;
  height: number;
}

/** @returns undefined where more of it makes no valid element, or no difference */
export function effectDrawing(
  element: Element,
  key: string,
  row: Pick<FieldRow, 'min' | 'max' | 'step'>,
): EffectDrawing | undefined {
  const value = (element as unknown as Record<string, unknown>)[key];
  const from = typeof value === 'number' ? value : row.min + 8 * row.step;
  const to = Math.min(row.max, Math.max(from * MORE, from + 4 * row.step));
  const changed = elementSchema.safeParse({ ...element, [key]: to });
  if (!changed.success) return undefined;
  const now = silhouette(element);
  const more = silhouette(changed.data);
  if (!now || !more) return undefined;
  const longest = Math.max(now.length, more.length);
  const thickest = Math.max(now.thickest, more.thickest);
  const scale = Math.min((WIDTH - 4) / longest, (HEIGHT - 4) / 2 / thickest);
  const paths = [now, more].map((s) => s.path(scale, 2, HEIGHT / 2));
  if (paths[0] === paths[1]) return undefined;
  return { now: paths[0]!, more: paths[1]!, width: WIDTH, height: HEIGHT };
}
