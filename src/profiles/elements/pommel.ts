import { z } from 'zod';
import { choice, mm } from '../../../shared/schema.ts';
import {
  concaveQuadrant,
  convexQuadrant,
  crease,
  defineElement,
  end,
  extent,
  halfWave,
  inside,
  start,
} from '../element.ts';

const meaning = 'The blank’s own section left standing, with a shoulder where it meets the turned lengths.';
/** The turned length beside a pommel stays this share of the largest circle in the blank, so that no flat is left on it. */
const CLEAR_OF_FLATS = 0.95;

/** How a shoulder climbs from (0, 0) at its foot to (1, 1) at the arrises. */
const climbs = { sloped: (s: number) => s, round: convexQuadrant, hollow: concaveQuadrant, ogee: halfWave };

export const pommel = defineElement({
  kind: 'pommel',
  label: 'pommel',
  meaning,
  schema: z.strictObject({
    element: z.literal('pommel').meta({ label: 'pommel', description: meaning }),
    ...extent,
    start: start.optional(),
    end: end.optional(),
    shoulder: choice(['square', 'sloped', 'round', 'hollow', 'ogee'], {
      label: 'shoulder',
      description: 'How the arrises come down to the turned length; left out, square: straight in.',
    }).optional(),
    shoulders: choice(['both', 'chuck', 'tail', 'none'], {
      label: 'shoulders at',
      description: 'Which ends have that shoulder; left out, both. The others are cut off square.',
    }).optional(),
    run: mm({
      label: 'shoulder length',
      description: 'Length along the axis of one shoulder that is not square.',
      min: 0.5,
      max: 200,
      step: 0.5,
    }).optional(),
  }),
  example: { element: 'pommel', length: 80, shoulder: 'ogee', run: 12, shoulders: 'tail' },
  outline(e, { length, start, end, section }) {
    if (!section) return 'a pommel keeps the blank’s section, and there is no blank';
    const { inner, outer } = section;
    const foot = { chuck: start, tail: end ?? inner * CLEAR_OF_FLATS };
    const shape = e.shoulder ?? 'square';
    const which = e.shoulders ?? 'both';
    const climb = shape === 'square' || which === 'none' ? undefined : climbs[shape];
    const ends = (['chuck', 'tail'] as const).filter((at) => climb && (which === 'both' || which === at));
    const run = e.run ?? Math.min(outer / 2, length / 4);
    if (run * ends.length > length) return `its shoulders take ${run * ends.length} mm of its ${length} mm`;
    for (const at of ends)
      if (foot[at] > inner) return `the turned end at its ${at} side is thicker than the blank is across its flats`;
    const rise = (at: 'chuck' | 'tail', h: number) => foot[at] + (outer - foot[at]) * climb!(Math.min(h, run) / run);
    const chuck = ends.includes('chuck');
    const tail = ends.includes('tail');
    const breaks = ends.flatMap((at) => {
      const meets = run * where(climb!, (inner - foot[at]) / (outer - foot[at]));
      return inside(length, ...[meets, run].map((h) => (at === 'chuck' ? h : length - h)));
    });
    breaks.sort((a, b) => a - b);
    return {
      radius: (u) =>
        chuck && u < run ? rise('chuck', u) : tail && u > length - run ? rise('tail', length - u) : outer,
      knots: breaks,
      breaks: breaks.map(crease),
      next: foot.tail,
      kept: [chuck ? run : 0, tail ? length - run : length],
    };
  },
});

/** Where a rising curve of 0…1 takes a value, by halving. */
function where(curve: (s: number) => number, value: number): number {
  let low = 0;
  let high = 1;
  for (let i = 0; i < 60; i++) {
    const middle = (low + high) / 2;
    if (curve(middle) < value) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
