import { z } from 'zod';
import { mm, ratio } from '../../../shared/schema.ts';
import { crease, defineElement, end, extent, halfRound, inside, start, straight } from '../element.ts';
import { crown } from './bead.ts';

const meaning = 'A small half-round between two flat fillets.';
const BAND = 1 / 6;

export const astragal = defineElement({
  kind: 'astragal',
  label: 'astragal',
  meaning,
  schema: z.strictObject({
    element: z.literal('astragal').meta({ label: 'astragal', description: meaning }),
    ...extent,
    start: start.optional(),
    end: end.optional(),
    band: ratio({
      label: 'fillet share',
      description: 'Share of its length that each of the two fillets takes; left out, a sixth.',
      min: 0.02,
      max: 0.45,
      step: 0.01,
    }).optional(),
    rise: mm({
      label: 'rise',
      description: 'How far its crown stands above the fillets; left out, half the length of its round.',
      min: 0.05,
      max: 200,
      step: 0.25,
    }).optional(),
  }),
  example: { element: 'astragal', length: 9 },
  outline(e, { length, start, end = start, girth }) {
    const band = (e.band ?? BAND) * length;
    const round = length - 2 * band;
    const rise = e.rise === undefined ? round / 2 : e.rise * girth;
    const foot = straight(start, end, round);
    return {
      radius(u) {
        if (u <= band) return start;
        if (u >= length - band) return end;
        return foot(u - band) + rise * halfRound((2 * (u - band)) / round - 1);
      },
      knots: inside(length, band, band + crown(round, start, end, rise), length - band),
      breaks: [crease(band), crease(length - band)],
    };
  },
});
