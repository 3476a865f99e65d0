import { z } from 'zod';
import { count, deg, flag, mm } from '../../../shared/schema.ts';
import { radians, TURN } from '../../../shared/units.ts';
import { defineCarving, range, type Wrong } from '../carving.ts';
import type { Hole } from '../field.ts';

const meaning = 'Holes drilled square to the axis, evenly around the form.';

/** Holes are drilled, not carved: they are listed beside the surface and leave its radius as it is. Girth does not scale them. */
export const holes = defineCarving({
  kind: 'holes',
  label: 'radial holes',
  meaning,
  schema: z.strictObject({
    carving: z.literal('holes').meta({ label: 'radial holes', description: meaning }),
    ...range,
    count: count({ label: 'count', description: 'How many around in each row.', min: 1, max: 96, step: 1 }),
    rows: count({
      label: 'rows',
      description: 'Rows along the axis, from the start of the range to its end; left out, one in its middle.',
      min: 1,
      max: 200,
      step: 1,
    }).optional(),
    staggered: flag({
      label: 'staggered',
      description: 'Whether every other row is set half a step around.',
    }).optional(),
    diameter: mm({ label: 'diameter', description: 'Diameter of a hole.', min: 0.5, max: 60, step: 0.1 }),
    depth: mm({ label: 'depth', description: 'Depth from the surface at its middle.', min: 0.5, max: 300, step: 0.5 }),
    turned: deg({
      label: 'turned',
      description: 'Angle of the first hole from the top flat of the blank.',
      min: -360,
      max: 360,
      step: 1,
    }).optional(),
  }),
  example: { carving: 'holes', count: 4, diameter: 6, depth: 8 },
  drills(c, { from, to }, ground): Hole[] | Wrong {
    const rows = c.rows ?? 1;
    const drilled: Hole[] = [];
    for (let row = 0; row < rows; row++) {
      const x = rows === 1 ? (from + to) / 2 : from + ((to - from) * row) / (rows - 1);
      const r = Math.min(ground.outline(x, x > 0 ? -1 : 1), ground.outline(x, x < ground.length ? 1 : -1));
      if (x - c.diameter / 2 < 0 || x + c.diameter / 2 > ground.length)
        return {
          at: 'diameter',
          message: `a hole at x = ${x} mm breaks out of the end of the form`,
          allowed: 'a range further in',
        };
      if (c.depth > r)
        return {
          at: 'depth',
          message: `a hole at x = ${Math.round(x * 1000) / 1000} mm goes ${(c.depth - r).toFixed(2)} mm past the axis`,
          allowed: `at most ${(Math.floor(r * 100) / 100).toFixed(2)} mm; two holes that meet go through`,
        };
      if (c.diameter >= 2 * r)
        return {
          at: 'diameter',
          message: 'a hole is as wide as the form is thick',
          allowed: `less than ${(2 * r).toFixed(2)} mm`,
        };
      const offset = radians(c.turned ?? 0) + (c.staggered && row % 2 ? TURN / (2 * c.count) : 0);
      for (let k = 0; k < c.count; k++)
        drilled.push({ x, theta: offset + (k * TURN) / c.count, diameter: c.diameter, depth: c.depth });
    }
    return drilled;
  },
});
