/** Small jobs for tests of the planner: a field, a blank, a bench and bits with limits written by hand. */
import { type Bench, type Bit, benches, bits, controls, materials } from '../../shared/catalog.ts';
import { CLEARANCE } from '../../shared/tolerances.ts';
import type { Blank } from '../../src/cam/blank.ts';
import { outerRadius } from '../../src/cam/blank.ts';
import type { Job, Limits, PlanOptions, Tool } from '../../src/cam/job.ts';
import type { Field } from '../../src/profiles/field.ts';

export const bitNamed = (id: string): Bit => {
  const b = bits.find((row) => row.id === id);
  if (!b) throw new Error(`no bit ${id}`);
  return b;
};
export const benchNamed = (id: string): Bench => {
  const b = benches.find((row) => row.id === id);
  if (!b) throw new Error(`no bench ${id}`);
  return b;
};

export const handLimits = (bit: Bit, change: Partial<Limits> = {}): Limits => ({
  rpm: 16000,
  feed: 1500,
  finishFeed: 1500,
  plungeFeed: 500,
  stepDown: Math.min(2.4, 0.4 * bit.diameter),
  stepOver: 0.4 * bit.diameter,
  rampAngle_deg: 3,
  plunge: 1,
  why: [],
  ...change,
});
export const toolOf = (id: string, change: Partial<Limits> = {}): Tool => {
  const bit = bitNamed(id);
  return { bit, limits: handLimits(bit, change) };
};

export interface JobParts {
  field: Field;
  section?: Blank['section'];
  width: number;
  height?: number;
  sides?: number;
  /** Stub lengths, mm; radius of the turned stub. */
  chuckStub?: number;
  tailStub?: number;
  stubRadius?: number;
  bench?: string;
  roughing?: Tool;
  finishing?: Tool;
  plan?: Partial<PlanOptions>;
}

export function jobFor(p: JobParts): Job {
  const section = p.section ?? 'square';
  const grip = 20;
  const chuckStub = p.chuckStub ?? 12;
  const tailStub = p.tailStub ?? 12;
  const length = p.field.length;
  const blank: Blank = {
    section,
    width: p.width,
    height: p.height ?? p.width,
    sides: section === 'round' ? 0 : section === 'polygon' ? (p.sides ?? 8) : 4,
    from: -chuckStub - grip,
    to: length + tailStub,
  };
  const radius = p.stubRadius ?? 6;
  const bench = benchNamed(p.bench ?? 'middle');
  return {
    name: 'test piece',
    field: p.field,
    blank,
    holding: { chuckGrip: grip, chuckStub, tailStub, tailstock: true },
    stubs: {
      chuck: { from: -Math.min(chuckStub, 6), to: 0, radius },
      tail: { from: length, to: length + Math.min(tailStub, 6), radius },
    },
    keepOut: [{ from: -chuckStub - 200, to: -chuckStub, radius: bench.chuck.diameter / 2, what: 'chuck' }],
    material: materials[0] ?? Object.assign(Object.create(null), { id: 'none' }),
    bench,
    control: controls[0] ?? Object.assign(Object.create(null), { id: 'none' }),
    tools: {
      roughing: p.roughing ?? toolOf('flat-6'),
      finishing: p.finishing ?? toolOf('ball-6'),
      detail: [],
      drills: [],
    },
    plan: {
      corners: 'auto',
      roughing: 'auto',
      finishing: 'spiral',
      necking: false,
      allowance: 0.4,
      scallop: 0.02,
      ...p.plan,
    },
    tolerance: 0.03,
    safeRadius: outerRadius(blank) + 2 * CLEARANCE,
  };
}
