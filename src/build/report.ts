/** The report that tools outside rely on: its shape, checked, and how it is filled. All lengths mm. */
import { z } from 'zod';

const num = z.number();
const word = z.strictObject({
  letter: z.string().length(1),
  scale: z.union([z.literal(1), z.literal(-1)]),
  offset: num,
});

const programSchema = z.strictObject({
  file: z.string(),
  bit: z.strictObject({
    kind: z.enum(['flat', 'ball', 'bull', 'vee', 'tapered-ball']),
    diameter: num,
    tipRadius: num,
    tipDiameter: num,
    includedAngle_deg: num,
    fluteLength: num,
    reach: num,
    shank: num,
  }),
  rpm: num,
  stages: z.array(z.strictObject({ stage: z.string(), passes: z.int(), time_s: num })),
  blocks: z.int(),
  time_s: num,
});

export const reportSchema = z.strictObject({
  cavetto: z.string(),
  part: z.strictObject({ name: z.string(), length: num, maxRadius: num, minRadius: num, volume: num }),
  blank: z.strictObject({
    section: z.enum(['square', 'rectangle', 'polygon', 'round']),
    width: num,
    height: num,
    sides: z.int(),
    from: num,
    to: num,
    volume: num,
  }),
  words: z.strictObject({
    axial: word,
    radial: word,
    rotary: z.strictObject({
      letter: z.string().length(1),
      unitsPerTurn: num,
      sign: z.union([z.literal(1), z.literal(-1)]),
    }),
    units: z.enum(['mm', 'inch']),
    feedRule: z.enum(['inverse-time', 'all-words', 'linear-first']),
  }),
  limits: z.strictObject({
    rotaryMax_deg_min: num,
    axialMax_mm_min: num,
    radialMax_mm_min: num,
    keepOut: z.array(z.strictObject({ from: num, to: num, radius: num, what: z.string() })),
    safeRadius: num,
  }),
  programs: z.array(programSchema),
  proof: z.strictObject({
    verdict: z.enum(['proven', 'refused']),
    deepestGouge: num,
    restP99: num,
    tolerance: num,
    findings: z.array(
      z.strictObject({
        code: z.string(),
        severity: z.enum(['refuse', 'warn', 'note']),
        file: z.string(),
        line: z.int(),
        x: num,
        theta_deg: num,
        message: z.string(),
      }),
    ),
  }),
  time: z.strictObject({ total_s: num, bound_s: num, efficiency: num }),
  strength: z.strictObject({ worstDeflection: num, atX: num, safetyFactor: num }),
  price: z.strictObject({ currency: z.string(), material: num, machine: num, labour: num, unit: num }),
});
export type Report = z.infer<typeof reportSchema>;
