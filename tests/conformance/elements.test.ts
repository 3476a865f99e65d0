import { describe, expect, test } from 'vitest';
import type { z } from 'zod';
import { metaOf } from '../../shared/schema.ts';
import type { Design } from '../../src/profiles/design.ts';
import { designShape } from '../../src/profiles/design.ts';
import type { ElementKind } from '../../src/profiles/element.ts';
import { defaultElement, type Element, elementKinds, elementSchema } from '../../src/profiles/elements/registry.ts';
import { layOut } from '../../src/profiles/layout.ts';
import {
  lengthKeys,
  made,
  random,
  rectangleSection,
  sampledBounds,
  scaled,
  slopeJump,
  squareSection,
} from '../profiles/probe.ts';

const square = squareSection(50);
const own = (kind: ElementKind) => kind.example as Element;
const keysOf = (kind: ElementKind) => Object.keys(kind.schema.shape);

/** Further settings of each kind, so that every branch of its outline is walked. */
const variants: Record<string, Partial<Record<string, unknown>>[]> = {
  taper: [{ start: 20, end: 38 }, {}],
  fillet: [{ rise: -2 }, { start: 33 }],
  bead: [{ start: 30, end: 24 }, { rise: 2 }, { start: 20, end: 44, rise: 1 }],
  astragal: [{ start: 30, end: 25, rise: 1, band: 0.3 }],
  torus: [
    { start: 40, end: 28 },
    { start: 20, end: 36, rise: 3 },
  ],
  ovolo: [{ goes: 'in' }, { start: 40, end: 22 }, { projection: 4 }],
  cavetto: [{ goes: 'in' }, { start: 40, end: 22 }, { goes: 'in', projection: 4 }],
  cove: [{ start: 40, end: 34 }, { depth: 3 }],
  scotia: [
    { large: 'tail' },
    { start: 40, end: 30 },
    { depth: 3, split: 3 / 7 },
    { start: 30, end: 36, depth: 4, large: 'tail' },
  ],
  ogee: [{ goes: 'in' }, { start: 24, end: 40 }, { projection: 6 }],
  'reverse-ogee': [{ goes: 'in' }, { start: 24, end: 40 }, { projection: 6 }],
  vase: [{ at: 0.6 }, { start: 20, end: 30, belly: undefined }, { belly: 12 }],
  ball: [
    { start: 20, end: 6 },
    { length: 4, start: 30, end: 20 },
  ],
  vee: [{ depth: 1 }, { start: 30, end: 26 }],
  pommel: [
    { shoulder: 'square', shoulders: 'both', run: undefined },
    { shoulder: 'sloped', shoulders: 'both', start: 40, end: 44 },
    { shoulder: 'round', shoulders: 'chuck', start: 36 },
    { shoulder: 'hollow', shoulders: 'both', run: undefined },
    { shoulders: 'none' },
  ],
  spline: [{ start: undefined, end: 30 }, { points: [{ at: 0.5, diameter: 50 }] }],
  entasis: [{ start: 20, end: 30 }, { straight: 0 }, { end: 20, straight: 0.5 }],
  measured: [
    { fit: 'straight' },
    { length: 90 },
    {
      readings: [
        { at: -5, diameter: 20 },
        { at: 10, diameter: 30, corner: true },
        { at: 20, diameter: 22 },
      ],
    },
  ],
};
const cases = elementKinds.flatMap((kind) =>
  [{}, ...(variants[kind.kind] ?? [])].map((v, i) => ({
    name: `${kind.kind} ${i}`,
    kind,
    element: Object.fromEntries(Object.entries({ ...own(kind), ...v }).filter(([, x]) => x !== undefined)) as Element,
  })),
);
/** The element between two cylinders that ask for nothing. */
const between = (e: Element): Design => ({
  form: [{ element: 'cylinder', length: 10, start: 36 }, e, { element: 'cylinder', length: 12 }],
});
const spans = (breaks: readonly { x: number }[], length: number) => {
  const xs = [0, ...breaks.map((b) => b.x), length];
  return xs.slice(1).map((x, i) => [xs[i]!, x] as const);
};

describe.each(elementKinds.map((kind) => ({ name: kind.kind, kind })))('the kind $name', ({ kind }) => {
  test('has a default that its schema and the form’s take, and a name and a sentence', () => {
    expect(kind.schema.parse(kind.example)).toEqual(kind.example);
    expect(elementSchema.parse(defaultElement(kind.kind as Element['element']))).toEqual(kind.example);
    expect(kind.label).toMatch(/^[a-z ]+$/);
    expect(kind.meaning).toMatch(/^[A-Z].*\.$/);
  });

  test('explains every parameter, and gives every number a unit, a step and limits', () => {
    const walk = (schema: z.ZodType, name: string): void => {
      const meta = metaOf(schema);
      expect(meta?.label, name).toBeTruthy();
      expect(meta?.description, name).toBeTruthy();
      let at = schema as unknown as { def: { type: string; innerType?: never; element?: z.ZodType }; shape?: never };
      while (at.def.innerType) at = at.def.innerType;
      if (at.def.type === 'number')
        for (const key of ['unit', 'step', 'min', 'max'] as const) expect(meta?.[key], `${name} ${key}`).toBeDefined();
      if (meta?.unit === 'mm' && name !== 'readings.at') expect(lengthKeys, name).toContain(name.split('.').at(-1));
      if (at.def.type === 'array')
        for (const [k, s] of Object.entries((at.def.element as z.ZodObject).shape))
          walk(s as z.ZodType, `${name}.${k}`);
    };
    for (const [name, schema] of Object.entries(kind.schema.shape)) walk(schema as z.ZodType, name);
  });

  test('refuses an unknown key and a number out of limits', () => {
    expect(elementSchema.safeParse({ ...kind.example, colour: 1 }).success).toBe(false);
    expect(elementSchema.safeParse({ ...kind.example, length: -1 }).success).toBe(false);
    expect(elementSchema.safeParse({ ...kind.example, length: Number.NaN }).success).toBe(false);
  });
});

describe.each(cases)('$name', ({ kind, element }) => {
  const design = between(element);
  const field = made(design, square);
  const placed = layOut(design, square).placed[1]!;

  test('is as long as it was told, and so is the form', () => {
    const length = element.length ?? kind.natural!(element);
    expect(placed.from).toBe(10);
    expect(placed.to - placed.from).toBeCloseTo(length, 10);
    expect(field.length).toBeCloseTo(22 + length, 10);
  });

  test('has a finite positive radius everywhere, the same in a ring as alone', () => {
    const next = random(7);
    const thetas = Float64Array.from({ length: 64 }, () => (next() - 0.3) * 20);
    const out = new Float64Array(64);
    for (let i = 0; i < 200; i++) {
      const x = i < 20 ? (field.breaks[i]?.x ?? 0) : -5 + next() * (field.length + 10);
      for (const side of [-1, 0, 1] as const) {
        field.ring(x, thetas, out, side);
        const bad = thetas.findIndex((t, j) => !(out[j]! > 0 && out[j]! < 1000) || field.radius(x, t, side) !== out[j]);
        if (bad >= 0) throw new Error(`${out[bad]} in the ring at ${x}, ${thetas[bad]}, ${side}`);
      }
    }
  });

  test('meets its neighbours where it is given no diameters of its own', () => {
    const theta = Math.PI / 4;
    if (kind.kind !== 'pommel') {
      const gap = field.radius(placed.to, theta, 1) - field.radius(placed.to, theta, -1);
      expect(Math.abs(gap)).toBeLessThan(1e-9);
    }
    const free = !('start' in element) && !('readings' in element) && !('rise' in element && kind.kind === 'fillet');
    if (free && kind.kind !== 'pommel') expect(field.radius(10, theta, 1)).toBeCloseTo(18, 9);
    const sized = element as { start?: number; end?: number };
    if (kind.kind === 'pommel' || kind.kind === 'fillet') return;
    if (sized.start !== undefined) expect(field.radius(10, theta, 1)).toBeCloseTo(sized.start / 2, 9);
    if (sized.end !== undefined) expect(field.radius(placed.to, theta, -1)).toBeCloseTo(sized.end / 2, 9);
  });

  test('reports the diameters at its ends', () => {
    const theta = Math.PI / 4;
    expect(placed.start).toBeCloseTo(2 * field.radius(10, theta, 1), 9);
    expect(placed.end).toBeCloseTo(2 * field.radius(placed.to, theta, -1), 9);
  });

  test('declares every place where its slope jumps', () => {
    const lines = element.element === 'pommel' ? [0, Math.PI / 4] : [0];
    for (const [a, b] of spans(field.breaks, field.length))
      for (const theta of lines) {
        const { at, jump } = slopeJump((x) => field.radius(x, theta), a + 0.01, b - 0.01);
        if (jump > 0.02) throw new Error(`slope jumps by ${jump} at x = ${at}`);
      }
  });

  test('declares a shoulder where, and only where, its radius jumps', () => {
    for (const b of field.breaks) {
      const jump = [0, 0.3, Math.PI / 4].some(
        (t) => Math.abs(field.radius(b.x, t, -1) - field.radius(b.x, t, 1)) > 1e-9,
      );
      expect(jump, `x = ${b.x}`).toBe(b.kind === 'shoulder');
      for (const t of [0, 0.3, Math.PI / 4])
        expect(field.radius(b.x, t)).toBe(Math.max(field.radius(b.x, t, -1), field.radius(b.x, t, 1)));
    }
  });

  test('has bounds that enclose it and are nearly tight', () => {
    const next = random(11);
    for (let i = 0; i < 60; i++) {
      let x0 = next() * field.length;
      let x1 = i % 3 ? x0 + next() * 5 : next() * field.length;
      if (i % 7 === 0 && field.breaks.length) x0 = field.breaks[i % field.breaks.length]!.x;
      if (i % 11 === 0 && field.breaks.length) x1 = field.breaks[(i + 1) % field.breaks.length]!.x;
      [x0, x1] = [Math.min(x0, x1), Math.min(field.length, Math.max(x0, x1))];
      const [low, high] = field.bounds(x0, x1);
      const [least, most] = sampledBounds(field, x0, x1, 200, 8);
      expect(low).toBeLessThanOrEqual(least + 1e-12);
      expect(high).toBeGreaterThanOrEqual(most - 1e-12);
      const slack = Math.max(0.05, 0.05 * (most - least));
      expect(least - low).toBeLessThan(slack);
      expect(high - most).toBeLessThan(slack);
    }
    const [least, most] = sampledBounds(field, 0, field.length, 4000, 8);
    expect(field.minRadius).toBeLessThanOrEqual(least);
    expect(field.maxRadius).toBeGreaterThanOrEqual(most);
    expect(least - field.minRadius).toBeLessThan(0.05);
    expect(field.maxRadius - most).toBeLessThan(0.05);
  });

  test('is round unless the blank’s section is left on it', () => {
    expect(field.symmetry).toBe(kind.kind === 'pommel' ? 4 : Infinity);
    expect(field.isRound(0, 9.9)).toBe(true);
    expect(field.isRound(0, field.length)).toBe(kind.kind !== 'pommel');
  });

  test('scales with all its lengths', () => {
    const big = made(scaled(design, 2), squareSection(100));
    expect(big.length).toBeCloseTo(2 * field.length, 9);
    for (let i = 0; i <= 200; i++) {
      const x = (field.length * (i + 0.37)) / 201;
      for (const theta of [0, 0.4, 0.8]) expect(big.radius(2 * x, theta)).toBeCloseTo(2 * field.radius(x, theta), 7);
    }
  });

  test('mirrors', () => {
    const e = structuredClone(element) as Record<string, unknown>;
    const flip: Record<string, string> = { chuck: 'tail', tail: 'chuck' };
    if (kind.kind === 'pommel') {
      e.shoulders = flip[e.shoulders as string] ?? e.shoulders;
      [e.start, e.end] = [e.end ?? 47.5, e.start ?? 36];
    } else if (keysOf(kind).includes('end')) [e.start, e.end] = [placed.end, placed.start];
    else if (keysOf(kind).includes('start')) {
      e.start = placed.start;
      delete e.rise;
    }
    if (kind.kind === 'vase') {
      e.at = 1 - ((e.at as number) ?? 0.35);
      e.belly = e.belly ?? 2 * field.maxRadius;
    }
    if (kind.kind === 'scotia') {
      e.large = flip[(e.large as string) ?? 'chuck'];
      e.depth = Math.min(placed.start, placed.end) / 2 - sampledBounds(field, placed.from, placed.to, 6000, 1)[0];
    }
    if (kind.kind === 'spline')
      e.points = (e.points as { at: number }[]).map((p) => ({ ...p, at: 1 - p.at })).reverse();
    if (kind.kind === 'measured')
      e.readings = (e.readings as { at: number }[]).map((p) => ({ ...p, at: -p.at })).reverse();
    const other = made({ form: [e as unknown as Element] }, square);
    const length = placed.to - placed.from;
    expect(other.length).toBeCloseTo(length, 9);
    for (let i = 0; i <= 400; i++) {
      const u = (length * (i + 0.41)) / 401;
      expect(other.radius(length - u, 0.7)).toBeCloseTo(field.radius(10 + u, -0.7), 5);
    }
  });

  test('has creases where, and only where, the section’s slope jumps', () => {
    for (const x of [10.5, 12, 16, (placed.from + placed.to) / 2, placed.to - 2.5]) {
      const creases = field.creases(x);
      for (const c of creases) {
        const slope = (s: number) => (field.radius(x, c + s * 1e-6) - field.radius(x, c)) / (s * 1e-6);
        expect(Math.abs(slope(1) - slope(-1))).toBeGreaterThan(1e-2);
      }
      const turns = creases.length ? [...creases, creases[0]! + 2 * Math.PI] : [0, 2 * Math.PI];
      for (let i = 1; i < turns.length; i++) {
        const { at, jump } = slopeJump((t) => field.radius(x, t), turns[i - 1]! + 1e-4, turns[i]! - 1e-4);
        if (jump > 0.02) throw new Error(`section at ${x} bends by ${jump} at ${at}`);
      }
    }
  });
});

test('girth scales every diameter and rise that is told, and lets natural shapes keep theirs', () => {
  const form: Element[] = [
    { element: 'cylinder', length: 10, start: 20 },
    { element: 'bead', length: 8 },
    { element: 'bead', length: 8, rise: 3 },
  ];
  const field = made({ girth: 1.5, form });
  expect(field.radius(5, 0)).toBe(15);
  expect(field.radius(14, 0)).toBe(15 + 4);
  expect(field.radius(22, 0)).toBe(15 + 4.5);
});

test('shares divide what the fixed elements leave, and a stretched form keeps its beads round', () => {
  const form: Element[] = [
    { element: 'bead', length: 10, start: 30 },
    { element: 'taper', share: 2, end: 20 },
    { element: 'cylinder', share: 1 },
  ];
  for (const length of [70, 310]) {
    const { placed, problems } = layOut({ length, form });
    expect(problems).toEqual([]);
    expect(placed.map((p) => p.to)).toEqual([10, 10 + ((length - 10) * 2) / 3, length]);
    expect(made({ length, form }).radius(5, 0)).toBe(20);
  }
});

test('a pommel on a rectangular blank keeps its two different faces', () => {
  const field = made(
    {
      form: [
        { element: 'pommel', length: 30 },
        { element: 'cylinder', length: 20, start: 30 },
      ],
    },
    rectangleSection(60, 40),
  );
  expect(field.symmetry).toBe(2);
  expect(field.radius(10, 0)).toBeCloseTo(20, 12);
  expect(field.radius(10, Math.PI / 2)).toBeCloseTo(30, 12);
  expect(field.kept).toEqual([{ from: 0, to: 30 }]);
  expect(field.creases(10).length).toBe(4);
  expect(field.isRound(30, 50)).toBe(false);
  expect(field.isRound(30.001, 50)).toBe(true);
});

test('every field of the design is explained', () => {
  for (const [name, schema] of Object.entries(designShape)) expect(metaOf(schema)?.description, name).toBeTruthy();
});
