/** How fast a spiral winds: told in turns over its range or in mm for each turn. */
import { mm } from '../../shared/schema.ts';

export const pitch = mm({
  label: 'pitch',
  description: 'In place of turns: length along the axis for one full turn of one start.',
  min: 0.5,
  max: 3000,
  step: 0.5,
});

export const BOTH_TOLD = { at: 'pitch', message: 'a spiral has turns or a pitch, not both', allowed: 'leave one out' };

/** @returns turns over the range; one where the document tells neither turns nor pitch */
export function turnsOf(
  c: { turns?: number | undefined; pitch?: number | undefined },
  { from, to }: { from: number; to: number },
): number {
  return c.turns ?? (c.pitch === undefined ? 1 : (to - from) / c.pitch);
}
