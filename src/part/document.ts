/** The part document (`*.part.json`): one schema for its types, defaults, limits, editor completion and error texts. */
import { z } from 'zod';
import { benchSchema, controlSchema } from '../../shared/catalog.ts';
import { choice, mm, text } from '../../shared/schema.ts';
import { CORRECTION_MOST, FINISH_TOLERANCE } from '../../shared/tolerances.ts';
import { designShape } from '../profiles/design.ts';
import { bitsSchema, feedsSchema, planSchema, priceSchema } from './cutting.ts';
import { knobsSchema } from './knobs.ts';
import { CURRENT } from './migrate.ts';
import { idOrRow } from './rows.ts';
import { blankSchema, holdingSchema, solidSchema } from './stock.ts';

const prose = (max: number, label: string, description: string) =>
  z.string().max(max).meta({ label, description }).default('');

export const partSchema = z
  .strictObject({
    $schema: z
      .string()
      .max(400)
      .meta({ label: 'schema', description: 'Lets an editor complete the document' })
      .optional(),
    cavetto: z
      .literal(CURRENT)
      .meta({ label: 'version', description: 'Version of the part document' })
      .default(CURRENT),
    name: text(80, { label: 'name', description: 'What the part is called; files are named for it' }).default(
      'Untitled part',
    ),
    about: prose(1000, 'about', 'What the part is for'),
    units: choice(['mm', 'inch'], {
      label: 'units',
      description: 'Unit of every length in this document, and of every speed in length a minute',
    }).default('mm'),
    ...designShape,
    solid: solidSchema.prefault({}),
    blank: blankSchema.prefault({}),
    holding: holdingSchema.prefault({}),
    bench: idOrRow(benchSchema, {
      label: 'bench',
      description: 'A bench of the catalog by its id, or a whole row of your own',
    }).default('middle'),
    control: idOrRow(controlSchema, {
      label: 'control',
      description: 'A control of the catalog by its id, or a whole row of your own',
    }).default('four-axis-inverse-time'),
    bits: bitsSchema.prefault({}),
    feeds: feedsSchema.prefault({}),
    plan: planSchema.prefault({}),
    tolerance: mm({
      label: 'tolerance',
      description: 'Deepest gouge that a proven program may leave',
      min: 0.005,
      max: 0.5,
      step: 0.005,
    }).default(FINISH_TOLERANCE),
    trim: z
      .strictObject({
        radial: mm({
          label: 'radial trim',
          description: 'How much lower the bit stands than the programs say, found by readings of a finished part',
          min: -CORRECTION_MOST,
          max: CORRECTION_MOST,
          step: 0.01,
        }).default(0),
      })
      .meta({ label: 'trim', description: 'What readings of a finished part have shown to be off in the machine' })
      .prefault({}),
    price: priceSchema.prefault({}),
    knobs: knobsSchema,
    guard: z
      .boolean()
      .meta({
        label: 'protects people',
        description:
          'Whether it carries or guards people (stairs, decks, crutches); adds the local-code note to the sheet',
      })
      .default(false),
    notes: prose(2000, 'notes', 'Printed on the setup sheet'),
  })
  .meta({ label: 'part', description: 'A turned-and-carved part, its stock, its bench and its bits' });

/** A part document, whole: defaults filled, every length in mm. */
export type Part = z.output<typeof partSchema>;
