/**
 * The catalogs a person may edit: materials, bits, benches, controls. Each row names its source.
 * A document may name a row by id or carry a whole row of its own.
 */
import { z } from 'zod';
import benchRows from './catalog/benches.json' with { type: 'json' };
import bitRows from './catalog/bits.json' with { type: 'json' };
import controlRows from './catalog/controls.json' with { type: 'json' };
import materialRows from './catalog/materials.json' with { type: 'json' };
import { choice, count, deg, flag, mm, quantity, ratio, text } from './schema.ts';

const id = z
  .string()
  .regex(/^[a-z0-9][a-z0-9-]*$/)
  .meta({ label: 'id', description: 'Name of the row: small letters, digits and hyphens.' });
const label = text(80, { label: 'label', description: 'What a person calls it.' });
const source = text(400, { label: 'source', description: 'Where the numbers come from.' });

export const materialSchema = z.strictObject({
  id,
  label,
  source,
  kind: choice(['softwood', 'hardwood', 'plastic', 'metal'], {
    label: 'kind',
    description: 'Family; sets chip load and cautions.',
  }),
  density: quantity('ratio', {
    label: 'density',
    description: 'kg/m³ at 12 % moisture for wood.',
    min: 100,
    max: 20000,
    step: 10,
  }),
  modulus: quantity('ratio', {
    label: 'modulus',
    description: 'Bending modulus along the grain, MPa (N/mm²).',
    min: 100,
    max: 400000,
    step: 100,
  }),
  shearModulus: quantity('ratio', {
    label: 'shear modulus',
    description: 'For twisting about the axis, MPa (N/mm²).',
    min: 10,
    max: 150000,
    step: 10,
  }),
  bendingStrength: quantity('ratio', {
    label: 'bending strength',
    description: 'Modulus of rupture, or yield for metal, MPa.',
    min: 1,
    max: 2000,
    step: 1,
  }),
  shearStrength: quantity('ratio', {
    label: 'shear strength',
    description: 'Along the grain for wood, MPa.',
    min: 0.5,
    max: 1000,
    step: 0.5,
  }),
  cuttingForce: quantity('ratio', {
    label: 'specific cutting force',
    description: 'N/mm² of chip section (= 1000 × J/mm³).',
    min: 5,
    max: 5000,
    step: 1,
  }),
  chipLoadFactor: ratio({
    label: 'chip load factor',
    description: 'Multiplies the hardwood chip load of the same bit.',
    min: 0.05,
    max: 3,
    step: 0.05,
  }),
  surfaceSpeed: quantity('ratio', {
    label: 'surface speed',
    description: 'Highest sensible cutting speed, m/min.',
    min: 20,
    max: 2000,
    step: 10,
  }),
  price: quantity('money', {
    label: 'price',
    description: 'Invented price per litre (1,000,000 mm³) of stock.',
    min: 0,
    max: 10000,
    step: 0.1,
  }),
  caution: z
    .string()
    .max(400)
    .meta({ label: 'caution', description: 'Dust, fume or fire caution, printed on the setup sheet; may be empty.' }),
  mustAcknowledge: text(400, {
    label: 'to be acknowledged',
    description: 'What a person must say to have provided for before any program is written; left out, nothing.',
  }).optional(),
});
export type Material = z.infer<typeof materialSchema>;

export const bitSchema = z.strictObject({
  id,
  label,
  source,
  kind: choice(['flat', 'ball', 'bull', 'vee', 'tapered-ball'], {
    label: 'kind',
    description: 'Shape of the cutting end.',
  }),
  diameter: mm({
    label: 'diameter',
    description: 'Cutting diameter; of a vee or tapered ball the largest.',
    min: 0.2,
    max: 60,
    step: 0.1,
  }),
  tipRadius: mm({
    label: 'tip radius',
    description: 'Ball, corner or tapered tip radius; 0 for flat and vee.',
    min: 0,
    max: 30,
    step: 0.05,
  }),
  tipDiameter: mm({
    label: 'tip flat',
    description: 'Diameter of the flat at the tip of a vee; 0 elsewhere.',
    min: 0,
    max: 20,
    step: 0.05,
  }),
  includedAngle_deg: deg({
    label: 'included angle',
    description: 'Full angle of a vee or of a tapered ball’s flanks; 0 elsewhere.',
    min: 0,
    max: 170,
    step: 1,
  }),
  fluteLength: mm({
    label: 'flute length',
    description: 'Length that cuts, from the tip.',
    min: 1,
    max: 200,
    step: 0.5,
  }),
  reach: mm({
    label: 'reach',
    description: 'From the tip to where the shank gets thicker than the cutting diameter.',
    min: 1,
    max: 250,
    step: 0.5,
  }),
  shank: mm({ label: 'shank', description: 'Shank diameter.', min: 1, max: 30, step: 0.1 }),
  stickOut: mm({
    label: 'stick-out',
    description: 'From the tip to the face of the holder.',
    min: 2,
    max: 300,
    step: 0.5,
  }),
  holder: mm({
    label: 'holder diameter',
    description: 'Diameter of collet nut or holder above the stick-out.',
    min: 5,
    max: 120,
    step: 0.5,
  }),
  holderLength: mm({
    label: 'holder length',
    description: 'Length of the holder up to the spindle’s body.',
    min: 5,
    max: 200,
    step: 1,
  }),
  teeth: count({ label: 'teeth', description: 'Cutting edges.', min: 1, max: 8, step: 1 }),
  centreCutting: flag({
    label: 'centre cutting',
    description: 'Whether the end cuts right to its centre, so that it may be plunged.',
  }),
  price: quantity('money', {
    label: 'price',
    description: 'Invented price of a new one; left out, its wear costs nothing.',
    min: 0,
    max: 10000,
    step: 0.5,
  }).optional(),
  life_h: quantity('h', {
    label: 'life',
    description: 'Hours of cutting in hardwood until it is dull; left out, its wear costs nothing.',
    min: 0.1,
    max: 10000,
    step: 0.5,
  }).optional(),
});
export type Bit = z.infer<typeof bitSchema>;
export type BitKind = Bit['kind'];

const speed = (label: string, description: string) =>
  quantity('mm/min', { label, description, min: 10, max: 60000, step: 10 });
const acceleration = (label: string, description: string) =>
  quantity('ratio', { label, description, min: 5, max: 20000, step: 5 });

export const benchSchema = z.strictObject({
  id,
  label,
  source,
  swing: mm({
    label: 'swing',
    description: 'Largest diameter that turns clear of bed and brackets.',
    min: 20,
    max: 800,
    step: 1,
  }),
  bedBelow: mm({
    label: 'centre above bed',
    description: 'Rotary centre to the bed below it.',
    min: 10,
    max: 400,
    step: 1,
  }),
  roomAbove: mm({
    label: 'room above',
    description: 'Rotary centre to the holder’s face with the spindle at its top.',
    min: 20,
    max: 500,
    step: 1,
  }),
  betweenCentres: mm({
    label: 'between centres',
    description: 'Chuck face to tailstock point, at the most.',
    min: 50,
    max: 3000,
    step: 10,
  }),
  axialTravel: mm({
    label: 'axial travel',
    description: 'Travel along the rotary axis.',
    min: 50,
    max: 3000,
    step: 10,
  }),
  axialMax: speed('axial speed', 'Fastest travel along the rotary axis.'),
  radialMax: speed('radial speed', 'Fastest travel of the spindle up and down.'),
  axialAcceleration: acceleration('axial acceleration', 'mm/s².'),
  radialAcceleration: acceleration('radial acceleration', 'mm/s².'),
  blocksPerSecond: quantity('ratio', {
    label: 'blocks per second',
    description: 'How many lines a second the control takes.',
    min: 10,
    max: 20000,
    step: 10,
  }),
  spindleMin: quantity('rpm', { label: 'slowest spindle', description: 'rpm.', min: 0, max: 60000, step: 100 }),
  spindleMax: quantity('rpm', { label: 'fastest spindle', description: 'rpm.', min: 100, max: 80000, step: 100 }),
  spindlePower: quantity('W', { label: 'spindle power', description: 'W at the bit.', min: 10, max: 20000, step: 10 }),
  stiffness: ratio({
    label: 'rotary stiffness',
    description:
      'Cutting loads are multiplied by this: work between chuck and centre is held less firmly than work clamped flat (common practice, no source).',
    min: 0.1,
    max: 1,
    step: 0.05,
  }),
  rotary: z.strictObject({
    fullSteps: count({ label: 'full steps', description: 'Motor full steps a turn.', min: 20, max: 1000, step: 1 }),
    microsteps: count({ label: 'microsteps', description: 'Microsteps a full step.', min: 1, max: 256, step: 1 }),
    reduction: ratio({ label: 'reduction', description: 'Motor turns a chuck turn.', min: 0.2, max: 200, step: 0.1 }),
    holdingTorque: quantity('Nm', {
      label: 'holding torque',
      description: 'At the chuck, Nm.',
      min: 0.05,
      max: 500,
      step: 0.05,
    }),
    maxSpeed: quantity('rpm', {
      label: 'fastest turning',
      description: 'Chuck turns a minute.',
      min: 0.5,
      max: 400,
      step: 0.5,
    }),
    acceleration_deg: quantity('ratio', {
      label: 'turning acceleration',
      description: '°/s².',
      min: 10,
      max: 50000,
      step: 10,
    }),
  }),
  chuck: z.strictObject({
    jaws: count({
      label: 'jaws',
      description: 'Number of jaws; four hold a square, three do not.',
      min: 2,
      max: 6,
      step: 1,
    }),
    selfCentring: flag({ label: 'self-centring', description: 'Whether all jaws move together.' }),
    diameter: mm({
      label: 'chuck diameter',
      description: 'Largest diameter swept by chuck and jaws.',
      min: 20,
      max: 400,
      step: 1,
    }),
    length: mm({
      label: 'chuck length',
      description: 'From its face back to the headstock.',
      min: 10,
      max: 300,
      step: 1,
    }),
    gripMin: mm({
      label: 'smallest grip',
      description: 'Smallest diameter gripped from outside.',
      min: 0,
      max: 200,
      step: 1,
    }),
    gripMax: mm({
      label: 'largest grip',
      description:
        'Largest diameter (a square’s diagonal with four jaws on the corners does not count) gripped from outside.',
      min: 5,
      max: 400,
      step: 1,
    }),
    insideMin: mm({
      label: 'smallest bore',
      description: 'Smallest bore held from inside.',
      min: 0,
      max: 300,
      step: 1,
    }),
    insideMax: mm({ label: 'largest bore', description: 'Largest bore held from inside.', min: 0, max: 400, step: 1 }),
    jawDepth: mm({ label: 'jaw depth', description: 'Deepest useful grip.', min: 3, max: 100, step: 1 }),
  }),
  tailstock: z.strictObject({
    diameter: mm({
      label: 'centre diameter',
      description: 'Diameter of the live centre’s body.',
      min: 5,
      max: 100,
      step: 1,
    }),
    noseLength: mm({
      label: 'centre nose',
      description: 'From the point back to that body.',
      min: 1,
      max: 100,
      step: 1,
    }),
    bodyDiameter: mm({
      label: 'tailstock body',
      description: 'Largest diameter of the tailstock near the axis.',
      min: 10,
      max: 300,
      step: 1,
    }),
    bodyFrom: mm({
      label: 'tailstock from',
      description: 'From the point back to the tailstock’s body.',
      min: 5,
      max: 200,
      step: 1,
    }),
  }),
  brackets: z
    .array(
      z.strictObject({
        label: text(40, { label: 'label', description: 'What it is.' }),
        from: mm({
          label: 'from',
          description: 'Nearer end, from the chuck’s face toward the tailstock.',
          min: -500,
          max: 3000,
          step: 1,
        }),
        to: mm({ label: 'to', description: 'Farther end, from the chuck’s face.', min: -500, max: 3000, step: 1 }),
        height: mm({
          label: 'height',
          description: 'How high it comes above the rotary centre.',
          min: 1,
          max: 400,
          step: 1,
        }),
      }),
    )
    .max(12)
    .meta({ label: 'brackets', description: 'What else stands near the axis, for bit and holder to keep clear of.' })
    .optional(),
  adapter: mm({
    label: 'adapter',
    description: 'What an adapter or a drive plate takes of the length between chuck and point; left out, nothing.',
    min: 1,
    max: 300,
    step: 1,
  }).optional(),
  overhang: mm({
    label: 'spindle overhang',
    description:
      'How far the spindle’s mount reaches from the bit’s axis along the rotary axis, at the height of the holder’s upper end; left out, no further than the holder.',
    min: 5,
    max: 300,
    step: 1,
  }).optional(),
  hourlyRate: quantity('money', {
    label: 'hourly rate',
    description: 'Invented cost of an hour of the bench.',
    min: 0,
    max: 1000,
    step: 0.5,
  }),
});
export type Bench = z.infer<typeof benchSchema>;

const word = (letter: string) =>
  z.strictObject({
    letter: z.enum(['X', 'Y', 'Z', 'A', 'B', 'C', 'U', 'V', 'W']).meta({ label: letter, description: 'Word letter.' }),
    scale: z
      .union([z.literal(1), z.literal(-1)])
      .meta({ label: 'direction', description: '−1 where the machine counts the other way.' }),
  });

export const controlSchema = z.strictObject({
  id,
  label,
  source,
  units: choice(['mm', 'inch'], { label: 'units', description: 'Units of linear words (G21 or G20).' }),
  feedRule: choice(['inverse-time', 'all-words', 'linear-first'], {
    label: 'feed rule',
    description:
      'What F means when the rotary moves: one over the block’s minutes, length a minute over all words, or over the linear words alone.',
  }),
  axial: word('axial'),
  radial: word('radial'),
  rotary: z.strictObject({
    letter: z
      .enum(['X', 'Y', 'Z', 'A', 'B', 'C', 'U', 'V', 'W'])
      .meta({ label: 'rotary', description: 'Word letter of the rotary.' }),
    sign: z
      .union([z.literal(1), z.literal(-1)])
      .meta({ label: 'turning sense', description: '−1 where a growing word turns the work the other way.' }),
    unitsPerTurn: quantity('ratio', {
      label: 'units per turn',
      description: 'What the control believes one turn is: 360 for degrees, else mm.',
      min: 1,
      max: 10000,
      step: 1,
    }),
    linear: flag({
      label: 'on a linear output',
      description:
        'Whether the rotary hangs on a linear axis’s output, so that the control takes its word for a length (and scales it under G20).',
    }),
  }),
  decimals: z.strictObject({
    linear: count({
      label: 'linear decimals',
      description: 'Digits after the point of linear words.',
      min: 2,
      max: 6,
      step: 1,
    }),
    rotary: count({
      label: 'rotary decimals',
      description: 'Digits after the point of the rotary word.',
      min: 2,
      max: 6,
      step: 1,
    }),
  }),
  significandBits: count({
    label: 'number bits',
    description: '24 where the control keeps single-precision numbers, 53 for double.',
    min: 24,
    max: 53,
    step: 1,
  }),
  canRezero: flag({
    label: 'can re-zero',
    description: 'Whether G92 and G92.1 are understood, so that a long count may start again.',
  }),
  files: choice(['per-bit', 'one'], {
    label: 'files',
    description: 'One file a bit, or one file with stops for the change.',
  }),
  feedMax: quantity('ratio', {
    label: 'largest F',
    description: 'Largest number the control takes after F.',
    min: 100,
    max: 1e7,
    step: 100,
  }),
});
export type Control = z.infer<typeof controlSchema>;
export type FeedRule = Control['feedRule'];

/** All rows, parsed; a broken row in an edited file throws with its path, before anything else runs. */
export const materials: readonly Material[] = z.array(materialSchema).parse(materialRows);
export const bits: readonly Bit[] = z.array(bitSchema).parse(bitRows);
export const benches: readonly Bench[] = z.array(benchSchema).parse(benchRows);
export const controls: readonly Control[] = z.array(controlSchema).parse(controlRows);
