/** The part of a document that says what is turned and carved. */
import { z } from 'zod';
import { mm, ratio } from '../../shared/schema.ts';
import { type Carving, carvingSchema } from './carvings/registry.ts';
import { type Element, elementSchema } from './elements/registry.ts';

/** Fields that a part document spreads into its own object. */
export const designShape = {
  length: mm({
    label: 'overall length',
    description: 'Length of the finished form; left out, what its elements add up to. Shares need it.',
    min: 1,
    max: 3000,
    step: 1,
  }).optional(),
  girth: ratio({
    label: 'girth',
    description: 'Scales every diameter, rise and depth of the form, its lengths staying; left out, 1.',
    min: 0.1,
    max: 10,
    step: 0.05,
  }).optional(),
  form: z
    .array(elementSchema)
    .min(1)
    .max(500)
    .meta({ label: 'form', description: 'The turned outline: elements in a row from the chuck end to the tail end.' }),
  carvings: z
    .array(carvingSchema)
    .max(50)
    .meta({ label: 'carvings', description: 'What departs from round; each is cut into what those before it leave.' })
    .optional(),
};

export interface Design {
  length?: number | undefined;
  girth?: number | undefined;
  form: Element[];
  carvings?: Carving[] | undefined;
}
