/** Of the part document: the blank, what holds it, and what the solid gets beyond its form. */
import { z } from 'zod';
import { materialSchema } from '../../shared/catalog.ts';
import { choice, count, flag, mm, text } from '../../shared/schema.ts';
import { SOLID_TOLERANCE } from '../../shared/tolerances.ts';
import { idOrRow } from './rows.ts';

export const blankSchema = z
  .strictObject({
    section: choice(['square', 'rectangle', 'polygon', 'round'], {
      label: 'section',
      description: 'Shape of the stock across the axis; a flat faces up when the rotary stands at zero',
    }).default('square'),
    width: mm({
      label: 'width',
      description:
        'Side of a square, across the flats of a polygon, diameter of a round, breadth of a rectangle; left out, the next whole millimetre that holds the form',
      min: 3,
      max: 600,
      step: 0.5,
    }).optional(),
    height: mm({
      label: 'height',
      description: 'Of a rectangle, its size straight up when the rotary stands at zero',
      min: 3,
      max: 600,
      step: 0.5,
    }).optional(),
    sides: count({
      label: 'sides',
      description: 'Flats of a polygon',
      min: 3,
      max: 16,
      step: 1,
    }).optional(),
    length: mm({
      label: 'length',
      description: 'Overall length of the stock; left out, just what form, stubs and chuck grip need',
      min: 10,
      max: 3000,
      step: 1,
    }).optional(),
    bore: mm({
      label: 'bore',
      description: 'Diameter of the bore where the stock is a tube; left out, solid',
      min: 1,
      max: 400,
      step: 0.5,
    }).optional(),
    offCentre: mm({
      label: 'off centre',
      description:
        'How far the middle of the stock lies off the rotary axis, as measured on the bench; left out, no further than careful marking by hand',
      min: 0,
      max: 100,
      step: 0.1,
    }).optional(),
    acknowledged: text(80, {
      label: 'dangers met',
      description:
        'The id of the hazardous material that you have read the caution of and made provision for; only those that ask for it need it',
    }).optional(),
    material: idOrRow(materialSchema, {
      label: 'material',
      description: 'A material of the catalog by its id, or a whole row of your own',
    }).default('sugar-maple'),
  })
  .superRefine((blank, ctx) => {
    const wrong = (key: string, message: string) => ctx.addIssue({ code: 'custom', path: [key], message });
    if (blank.section === 'rectangle' && (blank.width === undefined) !== (blank.height === undefined))
      wrong(blank.width === undefined ? 'width' : 'height', 'is missing: a rectangle has a width and a height');
    if (blank.section !== 'rectangle' && blank.height !== undefined)
      wrong('height', `only a rectangle has a height; this blank is ${blank.section}`);
    if (blank.section === 'polygon' && blank.sides === undefined)
      wrong('sides', 'is missing: a polygon needs its number of flats');
    if (blank.section !== 'polygon' && blank.sides !== undefined)
      wrong('sides', `only a polygon has sides to choose; this blank is ${blank.section}`);
    const across = Math.min(blank.width ?? Infinity, blank.height ?? Infinity);
    if (blank.bore !== undefined && blank.bore >= across)
      wrong('bore', `${blank.bore} mm leaves nothing of stock ${across} mm across`);
  })
  .meta({ label: 'blank', description: 'The stock before cutting' });

const grip = (label: string, description: string, max: number) => mm({ label, description, min: 0, max, step: 0.5 });

export const holdingSchema = z
  .strictObject({
    chuckGrip: grip('chuck grip', 'Length inside the jaws; left out, what the bench’s jaws take', 150).optional(),
    chuckStub: grip(
      'chuck stub',
      'From the jaws to the form; left out, what the bits need to run off clear of the chuck',
      300,
    ).optional(),
    tailStub: grip(
      'tail stub',
      'From the form to the stock’s end; left out, what the bits need to run off clear of the tailstock',
      300,
    ).optional(),
    inside: flag({
      label: 'from inside',
      description: 'Whether the jaws spread inside the bore of a tube instead of closing on its outside',
    }).default(false),
    tenon: z
      .strictObject({
        diameter: mm({
          label: 'diameter',
          description: 'Diameter of the round end that the jaws hold',
          min: 2,
          max: 200,
          step: 0.5,
        }),
      })
      .meta({
        label: 'tenon for the jaws',
        description:
          'A round end, as long as the grip, turned or glued on the stock before it goes into the chuck; left out, the jaws hold the stock itself',
      })
      .optional(),
    tailstock: flag({
      label: 'tailstock',
      description: 'Whether a centre holds the other end; without one only short, stout parts stay still',
    }).default(true),
  })
  .meta({ label: 'holding', description: 'How the stock is held' });

const tenon = (end: string) =>
  z
    .strictObject({
      diameter: mm({ label: 'diameter', description: 'Diameter of the tenon', min: 1, max: 300, step: 0.5 }),
      length: mm({ label: 'length', description: 'Length of the tenon beyond the form', min: 1, max: 300, step: 0.5 }),
    })
    .meta({ label: `tenon, ${end}`, description: `A round peg at the ${end} end of the solid` });

export const solidSchema = z
  .strictObject({
    tolerance: mm({
      label: 'tolerance',
      description: 'How far the triangles may lie from the true surface',
      min: 0.002,
      max: 1,
      step: 0.005,
    }).default(SOLID_TOLERANCE),
    tenons: z
      .strictObject({ chuck: tenon('chuck').optional(), tail: tenon('tail').optional() })
      .meta({ label: 'tenons', description: 'Pegs added to the ends of the solid' })
      .default({}),
    bore: z
      .strictObject({
        diameter: mm({ label: 'diameter', description: 'Diameter of the bore', min: 0.5, max: 200, step: 0.5 }),
        from: choice(['through', 'chuck', 'tail'], {
          label: 'from',
          description: 'Right through along the axis, or blind from one end',
        }).default('through'),
        depth: mm({ label: 'depth', description: 'Depth of a blind bore', min: 0.5, max: 3000, step: 1 }).optional(),
      })
      .superRefine((bore, ctx) => {
        const blind = bore.from !== 'through';
        if (blind && bore.depth === undefined)
          ctx.addIssue({ code: 'custom', path: ['depth'], message: 'is missing: a blind bore has a depth' });
        if (!blind && bore.depth !== undefined)
          ctx.addIssue({ code: 'custom', path: ['depth'], message: 'a bore right through has no depth of its own' });
      })
      .meta({
        label: 'bore',
        description: 'A hole along the axis of the solid; drilled elsewhere, not by these programs',
      })
      .optional(),
  })
  .meta({ label: 'solid', description: 'The exported solid' });
