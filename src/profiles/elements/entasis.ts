import { z } from 'zod';
import { ratio } from '../../../shared/schema.ts';
import { defineElement, end, extent, inside, start } from '../element.ts';

const meaning = 'The shaft of a column: straight at its foot, then diminishing along a soft curve.';
/** Upper diameter over lower in all orders, as Fenn gives it. */
export const DIMINUTION = 5 / 6;
const STRAIGHT = 1 / 3;

/**
 * The thicker end is the foot. Above the straight part the radius is foot·cos(φ·s), s = 0…1 and cos φ = top/foot: the shaft
 * drawn from equal parts of the arc that the top radius cuts off the foot's circle (the builders' old construction, from memory).
 */
export const entasis = defineElement({
  kind: 'entasis',
  label: 'entasis',
  meaning,
  schema: z.strictObject({
    element: z.literal('entasis').meta({ label: 'entasis', description: meaning }),
    ...extent,
    start: start.optional(),
    end: end.optional(),
    straight: ratio({
      label: 'straight part',
      description: 'Share of its length, from the thicker end, that stays straight; left out, a third.',
      min: 0,
      max: 0.9,
      step: 0.01,
    }).optional(),
  }),
  example: { element: 'entasis', length: 200, start: 36 },
  outline(e, { length, start, end = start * DIMINUTION }) {
    const foot = Math.max(start, end);
    const angle = Math.acos(Math.min(start, end) / foot);
    const part = (e.straight ?? STRAIGHT) * length;
    const up = (h: number) => (h <= part ? foot : foot * Math.cos((angle * (h - part)) / (length - part)));
    return start >= end
      ? { radius: (u) => up(u), knots: inside(length, part), breaks: [] }
      : { radius: (u) => up(length - u), knots: inside(length, length - part), breaks: [] };
  },
});
