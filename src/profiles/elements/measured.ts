import { z } from 'zod';
import { choice, flag, mm } from '../../../shared/schema.ts';
import { defineElement, diameter, extent } from '../element.ts';
import type { Break } from '../field.ts';
import { monotoneCurve } from '../monotone.ts';

const meaning = 'A table of positions and diameters taken from an old part with calipers.';

/**
 * Passes through every reading. Two readings at one position are a shoulder. Given a length of its own, the table is stretched to it.
 */
export const measured = defineElement({
  kind: 'measured',
  label: 'measured',
  meaning,
  schema: z.strictObject({
    element: z.literal('measured').meta({ label: 'measured', description: meaning }),
    ...extent,
    fit: choice(['smooth', 'straight'], {
      label: 'between readings',
      description: 'A smooth curve that never swings beyond the readings, or straight lines; left out, smooth.',
    }).optional(),
    readings: z
      .array(
        z.strictObject({
          at: mm({
            label: 'at',
            description: 'Position along the old part, from wherever the table begins.',
            min: -3000,
            max: 3000,
            step: 0.1,
          }),
          diameter: diameter('diameter', 'Diameter read there.'),
          corner: flag({ label: 'corner', description: 'Whether the curve has an edge there.' }).optional(),
        }),
      )
      .min(2)
      .max(1000)
      .meta({
        label: 'readings',
        description: 'Positions and diameters from the chuck side on; two at one position make a shoulder.',
      }),
  }),
  example: {
    element: 'measured',
    readings: [
      { at: 0, diameter: 30 },
      { at: 12, diameter: 34.5 },
      { at: 20, diameter: 28 },
      { at: 20, diameter: 24 },
      { at: 45, diameter: 21.5 },
    ],
  },
  natural: ({ readings }) => readings.at(-1)!.at - readings[0]!.at,
  outline({ readings, fit = 'smooth' }, { length, girth }) {
    const span = readings.at(-1)!.at - readings[0]!.at;
    for (let i = 1; i < readings.length; i++) {
      if (!(readings[i]!.at >= readings[i - 1]!.at)) return `reading ${i} lies before reading ${i - 1}`;
      if (i > 1 && readings[i]!.at === readings[i - 2]!.at) return `readings ${i - 2} to ${i} are all at one position`;
    }
    if (!(span > 0)) return 'its readings are all at one position';
    const us = readings.map((p, i) =>
      i === readings.length - 1 ? length : ((p.at - readings[0]!.at) / span) * length,
    );
    if (us[0] === us[1] || us.at(-1) === us.at(-2)) return 'a shoulder at its very end belongs to the next element';
    const rs = readings.map((p) => (p.diameter / 2) * girth);
    const breaks: Break[] = [];
    const runs: { to: number; curve: (u: number) => number }[] = [];
    let first = 0;
    for (let i = 1; i < us.length; i++) {
      const step = us[i] === us[i + 1];
      const ends = i === us.length - 1 || step || fit === 'straight' || readings[i]!.corner === true;
      if (!ends) continue;
      runs.push({ to: us[i]!, curve: monotoneCurve(us.slice(first, i + 1), rs.slice(first, i + 1)) });
      if (i < us.length - 1) breaks.push({ x: us[i]!, kind: step ? 'shoulder' : 'crease' });
      first = step ? ++i : i;
    }
    return {
      radius(u, side) {
        const run = runs.find(({ to }) => u < to || (u === to && side < 0)) ?? runs.at(-1)!;
        return run.curve(u);
      },
      knots: [...new Set(us.slice(1, -1))],
      breaks,
    };
  },
});
