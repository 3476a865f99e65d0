import { z } from 'zod';
import { ratio } from '../../../shared/schema.ts';
import { defineElement, diameter, end, extent, start } from '../element.ts';
import { monotoneCurve } from '../monotone.ts';

const meaning = 'A free smooth curve through given diameters that never swings beyond them.';

export const spline = defineElement({
  kind: 'spline',
  label: 'spline',
  meaning,
  schema: z.strictObject({
    element: z.literal('spline').meta({ label: 'spline', description: meaning }),
    ...extent,
    start: start.optional(),
    end: end.optional(),
    points: z
      .array(
        z.strictObject({
          at: ratio({
            label: 'at',
            description: 'Where, as a share of its length from the chuck side.',
            min: 0.001,
            max: 0.999,
            step: 0.01,
          }),
          diameter: diameter('diameter', 'Diameter of the form there.'),
        }),
      )
      .min(1)
      .max(200)
      .meta({ label: 'points', description: 'Diameters between its two ends, from the chuck side on.' }),
  }),
  example: {
    element: 'spline',
    length: 100,
    start: 24,
    end: 20,
    points: [
      { at: 0.3, diameter: 38 },
      { at: 0.75, diameter: 16 },
    ],
  },
  outline(e, { length, start, end = start, girth }) {
    const us = [0, ...e.points.map((p) => p.at * length), length];
    for (let i = 1; i < us.length; i++)
      if (!(us[i]! > us[i - 1]!)) return `its points must be given from the chuck side on; point ${i - 1} is not`;
    const radius = monotoneCurve(us, [start, ...e.points.map((p) => (p.diameter / 2) * girth), end]);
    return { radius, knots: us.slice(1, -1), breaks: [] };
  },
});
