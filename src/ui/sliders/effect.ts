/** Draws what more of a parameter does: an element's silhouette, a carving's section or its lines, now and with a third more. Pure. */
import { type Carving, carvingSchema } from '../../profiles/carvings/registry.ts';
import type { Element } from '../../profiles/elements/registry.ts';
import { elementSchema } from '../../profiles/elements/registry.ts';
import { silhouette } from '../lanes/moulding.ts';
import { carvedRod, linesPath, type Rod, sectionPath } from './carving-view.ts';
import type { FieldRow } from './fields.ts';

const MORE = 1.33;
const WIDTH = 220;
const HEIGHT = 84;

export interface EffectDrawing {
  /** Filled outline as it is. */
  now: string;
  /** Fine lines on it as it is; empty where there are none. */
  lines: string;
  /** Dashed, with more of it; empty where nothing can be shown. */
  more: string;
  width: number;
  height: number;
}

type Number3 = Pick<FieldRow, 'min' | 'max' | 'step' | 'unit'>;

/** A third more of a number, at least four steps, within its limits. */
const more = (value: unknown, row: Number3): number => {
  const from = typeof value === 'number' ? value : Math.max(0, row.min) + 8 * row.step;
  return Math.min(row.max, Math.max(from * MORE, from + 4 * row.step));
};

/** @returns undefined where more of it makes no valid element, or no difference */
export function effectDrawing(element: Element, key: string, row: Number3): EffectDrawing | undefined {
  const value = (element as unknown as Record<string, unknown>)[key];
  const changed = elementSchema.safeParse({ ...element, [key]: more(value, row) });
  if (!changed.success) return undefined;
  const now = silhouette(element);
  const then = silhouette(changed.data);
  if (!now || !then) return undefined;
  const longest = Math.max(now.length, then.length);
  const thickest = Math.max(now.thickest, then.thickest);
  const scale = Math.min((WIDTH - 4) / longest, (HEIGHT - 4) / 2 / thickest);
  const paths = [now, then].map((s) => s.path(scale, 2, HEIGHT / 2));
  if (paths[0] === paths[1]) return undefined;
  return { now: paths[0]!, lines: '', more: paths[1]!, width: WIDTH, height: HEIGHT };
}

/**
 * @param rod what the carving lies on @returns its section if more of it changes that, else its lines from the side; undefined
 * where neither differs
 */
export function carvingEffect(carving: Carving, key: string, row: Number3, rod: Rod): EffectDrawing | undefined {
  const value = (carving as unknown as Record<string, unknown>)[key];
  const wanted = more(value, row);
  const changed = carvingSchema.safeParse({ ...carving, [key]: row.step >= 1 ? Math.round(wanted) : wanted });
  const now = carvedRod(carving, rod);
  const then = changed.success ? carvedRod(changed.data, rod) : undefined;
  if (!now || !then) return undefined;
  const across = (HEIGHT - 6) / 2 / Math.max(now.maxRadius, then.maxRadius);
  const sections = [now, then].map((f) => sectionPath(f, across, HEIGHT / 2, HEIGHT / 2));
  const box = { width: WIDTH, height: HEIGHT };
  // What turns along the axis turns the section too, but that says little of it.
  if (row.unit !== 'turns' && sections[0] !== sections[1])
    return { now: sections[0]!, lines: '', more: sections[1]!, ...box };
  const scale = Math.min((WIDTH - 4) / rod.length, across);
  const [r, end] = [now.maxRadius * scale, 2 + rod.length * scale];
  const lines = [now, then].map((f) => linesPath(f, scale, 2, HEIGHT / 2));
  if (lines[0] === lines[1]) return undefined;
  return { now: `M2 ${HEIGHT / 2 - r}H${end}V${HEIGHT / 2 + r}H2Z`, lines: lines[0]!, more: lines[1]!, ...box };
}
