import { describe, expect, test } from 'vitest';
import type { z } from 'zod';
import { metaOf } from '../../shared/schema.ts';
import { TURN } from '../../shared/units.ts';
import type { CarvingKind } from '../../src/profiles/carving.ts';
import { type Carving, carvingKinds, carvingSchema, defaultCarving } from '../../src/profiles/carvings/registry.ts';
import type { Design } from '../../src/profiles/design.ts';
import type { Element } from '../../src/profiles/elements/registry.ts';
import type { Field } from '../../src/profiles/field.ts';
import { lengthKeys, made, random, sampledBounds, scaled, slopeJump } from '../profiles/probe.ts';

/** A bead, a shoulder, a taper and a cove: something of everything under the carvings. */
const form: Element[] = [
  { element: 'bead', length: 12, start: 36 },
  { element: 'taper', length: 60, start: 40, end: 32 },
  { element: 'cove', length: 20, depth: 3 },
  { element: 'cylinder', length: 18, start: 36 },
];
const LENGTH = 110;
const range = { from: 8, to: 100 };

const variants: Record<string, object[]> = {
  flutes: [
    { count: 8, depth: 2.5, land: 0.3, ends: 'straight', run: 7, turned: 10 },
    { count: 6, depth: 4, section: 'elliptic', land: 0.2, turns: 0.4, hand: 'left' },
    { count: 7, depth: 3, section: 'vee', land: 0.5, ends: 'square' },
    { count: 20, deep: 0.5, land: 0.25, depth: undefined },
    { count: 20, deep: Math.SQRT1_2 - 0.5, depth: undefined, land: 0, tailEnd: 'square' },
  ],
  reeds: [
    { count: 8, depth: undefined },
    { count: 9, depth: 2, turns: 0.3, ends: 'straight' },
    { count: 12, depth: 1, ends: 'square' },
  ],
  facets: [
    { flats: 6, depth: 2 },
    { flats: 5, across: 26, turned: 20 },
    { flats: 6, across: 24, ends: 'square' },
    { flats: 4, turns: 0.25, ends: 'square' },
    { flats: 1, depth: 4 },
    { flats: 2, depth: 4, ends: 'straight', run: 15 },
  ],
  twist: [{ turns: 1.25, hand: 'left', ease: 0 }],
  lobes: [
    { starts: 1, depth: 4, turns: 2 },
    { starts: 3, depth: 3, shape: 'rope', pitch: 60, turns: undefined, hand: 'left' },
    { starts: 6, depth: 2, shape: 'rope', ends: 'square' },
  ],
  groove: [
    { section: 'vee', width: 3, depth: 2, starts: 3, turns: 1.5, hand: 'left' },
    { section: 'flat', width: 4, depth: 1.5, starts: 2, pitch: 40, turns: undefined, ends: 'square' },
    { width: 6, depth: 2, starts: 1, pitch: 5, turns: undefined, ends: 'square' },
    { starts: 4, turns: 0, width: 5, depth: 2 },
  ],
  crossed: [
    { section: 'round', width: 4, depth: 1.5, starts: 5, turns: 0.5 },
    { section: 'flat', width: 3, depth: 1, starts: 3, pitch: 30, turns: undefined },
  ],
  holes: [{ rows: 5, staggered: true, turned: 15 }],
};
const cases = carvingKinds.flatMap((kind) =>
  [{}, ...(variants[kind.kind] ?? [])].map((v, i) => ({
    name: `${kind.kind} ${i}`,
    kind,
    carving: Object.fromEntries(
      Object.entries({ ...kind.example, ...range, ...v }).filter(([, x]) => x !== undefined),
    ) as unknown as Carving,
  })),
);
/** A twist has nothing to turn alone. */
const designOf = (carving: Carving): Design => ({
  form,
  carvings: carving.carving === 'twist' ? [{ carving: 'flutes', count: 8, depth: 2.5, land: 0.3 }, carving] : [carving],
});
const plain = made({ form });
/** Stacks of carvings, each cut into what those before it leave. */
const stacks: { name: string; carvings: Carving[] }[] = [
  {
    name: 'twisted flutes on facets with a groove across',
    carvings: [
      { carving: 'facets', flats: 8, over: [1, 1], inset: 2 },
      { carving: 'flutes', count: 8, depth: 2, land: 0.6, over: [1, 1], inset: 6 },
      { carving: 'twist', turns: 0.3, over: [1, 1] },
      { carving: 'groove', starts: 2, width: 4, depth: 1.5, turns: 1, hand: 'left', over: [1, 1], inset: 10 },
    ],
  },
  {
    name: 'reeds turned by two twists of either hand under crossed grooves',
    carvings: [
      { carving: 'reeds', count: 12, depth: 1.5, from: 14, to: 90 },
      { carving: 'twist', turns: 0.5, from: 14, to: 50 },
      { carving: 'twist', turns: 0.5, hand: 'left', from: 50, to: 90, ease: 0 },
      { carving: 'crossed', starts: 6, width: 2, depth: 1, section: 'vee', turns: 0.4, from: 30, to: 60 },
    ],
  },
];
const everything: { name: string; carvings: Carving[]; single: boolean }[] = [
  ...cases.map((c) => ({ name: c.name, carvings: designOf(c.carving).carvings!, single: true })),
  ...stacks.map((s) => ({ ...s, single: false })),
];

describe.each(carvingKinds.map((kind) => ({ name: kind.kind, kind })))(
  'the kind $name',
  ({ kind }: { kind: CarvingKind }) => {
    test('has a default that its schema and the design’s take, and a name and a sentence', () => {
      expect(kind.schema.parse(kind.example)).toEqual(kind.example);
      expect(carvingSchema.parse(defaultCarving(kind.kind as Carving['carving']))).toEqual(kind.example);
      expect(kind.label).toMatch(/^[a-z ]+$/);
      expect(kind.meaning).toMatch(/^[A-Z].*\.$/);
    });

    test('explains every parameter, and gives every number a unit, a step and limits', () => {
      for (const [name, schema] of Object.entries(kind.schema.shape) as [string, z.ZodType][]) {
        const meta = metaOf(schema);
        expect(meta?.label, name).toBeTruthy();
        expect(meta?.description, name).toBeTruthy();
        let at = schema as unknown as { def: { type: string; innerType?: never } };
        while (at.def.innerType) at = at.def.innerType;
        if (at.def.type === 'number')
          for (const key of ['unit', 'step', 'min', 'max'] as const)
            expect(meta?.[key], `${name} ${key}`).toBeDefined();
        if (meta?.unit === 'mm') expect(lengthKeys, name).toContain(name);
      }
    });

    test('cuts, turns or drills', () => {
      expect([kind.cuts, kind.turns, kind.drills].filter((f) => f).length).toBe(1);
    });

    test('refuses an unknown key', () => {
      expect(carvingSchema.safeParse({ ...kind.example, colour: 1 }).success).toBe(false);
    });
  },
);

const places = (field: Field, n: number, seed: number): number[] => {
  const next = random(seed);
  return [...field.breaks.map((b) => b.x), 0, field.length, ...Array.from({ length: n }, () => next() * field.length)];
};

describe.each(everything)('$name', ({ carvings, single }) => {
  const design: Design = { form, carvings };
  const field = made(design);

  test('leaves a finite positive radius, never above the form, the same in a ring as alone', () => {
    const next = random(3);
    const thetas = Float64Array.from({ length: 90 }, () => (next() - 0.3) * 20);
    const out = new Float64Array(90);
    for (const x of places(field, 120, 5))
      for (const side of [-1, 0, 1] as const) {
        field.ring(x, thetas, out, side);
        const ceiling = plain.radius(x, 0, side) + 1e-9;
        const bad = thetas.findIndex(
          (t, j) => !(out[j]! > 0 && out[j]! <= ceiling) || field.radius(x, t, side) !== out[j],
        );
        if (bad >= 0)
          throw new Error(
            `${out[bad]} in the ring at ${x}, ${thetas[bad]}, ${side}; alone ${field.radius(x, thetas[bad]!, side)}`,
          );
      }
  });

  test('repeats around the axis as its symmetry says', () => {
    const next = random(4);
    const step = field.symmetry === Infinity ? 1 : TURN / field.symmetry;
    for (const x of places(field, 80, 6)) {
      const theta = next() * TURN;
      expect(field.radius(x, theta + step)).toBeCloseTo(field.radius(x, theta), 9);
      expect(field.radius(x, theta + TURN)).toBeCloseTo(field.radius(x, theta), 9);
    }
  });

  test('has bounds that enclose it and are nearly tight', () => {
    const next = random(12);
    const beside = field.breaks.flatMap(({ x }) => [
      [x, x + 0.7],
      [x - 0.7, x],
    ]);
    for (let i = 0; i < 12 + beside.length; i++) {
      let x0 = next() * LENGTH;
      let x1 = i % 3 ? x0 + next() * 4 : next() * LENGTH;
      if (i >= 12) [x0, x1] = beside[i - 12] as [number, number];
      [x0, x1] = [Math.min(x0, x1), Math.min(LENGTH, Math.max(x0, x1))];
      const [low, high] = field.bounds(x0, x1);
      const [least, most] = sampledBounds(field, x0, x1, i < 12 ? 30 : 8, 720);
      expect(low).toBeLessThanOrEqual(least + 1e-12);
      expect(high).toBeGreaterThanOrEqual(most - 1e-12);
      // Stacked depths need not meet in one place of a short range; one carving alone must be tight.
      if (!single) continue;
      const slack = Math.max(0.05, 0.05 * (most - least));
      expect(least - low).toBeLessThan(slack);
      expect(high - most).toBeLessThan(slack);
    }
    const [least, most] = sampledBounds(field, 0, LENGTH, 700, 240);
    expect(field.minRadius).toBeLessThanOrEqual(least);
    expect(field.maxRadius).toBeGreaterThanOrEqual(most);
    expect(least - field.minRadius).toBeLessThan(single ? 0.05 : 0.6);
    expect(field.maxRadius - most).toBeLessThan(0.05);
  });

  test('says truly where it is round', () => {
    const next = random(13);
    const thetas = Float64Array.from({ length: 360 }, (_, j) => (j * TURN) / 360 + 0.001);
    const out = new Float64Array(360);
    const spread = (x: number) => {
      let most = 0;
      for (const side of [-1, 1] as const) {
        field.ring(x, thetas, out, side);
        most = Math.max(most, Math.max(...out) - Math.min(...out));
      }
      return most;
    };
    let rounds = 0;
    for (let i = 0; i < 100; i++) {
      const x0 = next() * LENGTH;
      const x1 = Math.min(LENGTH, x0 + next() * 10);
      const most = Math.max(...[0, 0.1, 0.3, 0.5, 0.7, 0.9, 1].map((t) => spread(x0 + (x1 - x0) * t)));
      if (field.isRound(x0, x1)) {
        rounds++;
        expect(most).toBe(0);
      } else expect(most).toBeGreaterThan(0);
    }
    expect(field.isRound(0, 7)).toBe(!carvings.some((c) => c.carving === 'flutes' && c.from === undefined && !c.over));
    if (field.symmetry === Infinity) expect(rounds).toBe(100);
  });

  test('has creases where the section’s slope jumps, and nowhere else', () => {
    for (const x of [3, 9, 15.3, 30, 47.1, 66, 80, 97, 99.5]) {
      const creases = field.creases(x);
      expect([...creases].sort((a, b) => a - b)).toEqual(creases);
      expect(creases.every((c) => c >= 0 && c < TURN)).toBe(true);
      if (single)
        for (const c of creases) {
          const slope = (s: number) => (field.radius(x, c + s * 1e-6) - field.radius(x, c)) / (s * 1e-6);
          if (!(Math.abs(slope(1) - slope(-1)) > 1e-3)) throw new Error(`no crease at x = ${x}, θ = ${c}`);
        }
      const turns = creases.length ? [...creases, creases[0]! + TURN] : [0, TURN];
      for (let i = 1; i < turns.length; i++) {
        if (turns[i]! - turns[i - 1]! < 1e-3) continue;
        const { at, jump } = slopeJump((t) => field.radius(x, t), turns[i - 1]! + 1e-4, turns[i]! - 1e-4);
        if (jump > 0.05) throw new Error(`section at x = ${x} bends by ${jump} at ${at}`);
      }
    }
  });

  test('declares every place along its own turning where its slope jumps', () => {
    // Grooves cross what they lie on everywhere; their edges are creases of sections, not breaks.
    if (carvings.some((c) => c.carving === 'groove' || c.carving === 'crossed')) return;
    const xs = [0, ...field.breaks.map((b) => b.x), LENGTH];
    for (let i = 1; i < xs.length; i++)
      for (const theta of [0, 0.1, 0.21]) {
        if (xs[i]! - xs[i - 1]! < 0.1) continue;
        const f = (x: number) => field.radius(x, theta + field.turning(x));
        const { at, jump } = slopeJump(f, xs[i - 1]! + 0.02, xs[i]! - 0.02);
        if (jump > 0.05 && !passesCrease(field, theta, at))
          throw new Error(`slope jumps by ${jump} at x = ${at}, θ = ${theta}`);
      }
  });

  test('declares a shoulder wherever its radius jumps', () => {
    for (const b of field.breaks) {
      const jump = Math.max(
        ...Array.from({ length: 200 }, (_, j) =>
          Math.abs(field.radius(b.x, j * 0.0317, -1) - field.radius(b.x, j * 0.0317, 1)),
        ),
      );
      if (b.kind !== 'shoulder') expect(jump, `x = ${b.x}`).toBeLessThan(1e-9);
    }
  });

  test('turns without jumps', () => {
    const steps = Array.from({ length: 5001 }, (_, i) => {
      const x = (LENGTH * i) / 5000;
      return Math.abs(field.turning(x + 1e-6) - field.turning(x));
    });
    expect(Math.max(...steps)).toBeLessThan(1e-5);
  });

  test('scales with all its lengths', () => {
    const big = made(scaled(design, 2));
    const next = random(9);
    for (let i = 0; i < 300; i++) {
      const x = next() * LENGTH;
      const theta = next() * TURN;
      expect(big.radius(2 * x, theta)).toBeCloseTo(2 * field.radius(x, theta), 7);
    }
  });

  test('mirrors with its hand', () => {
    const mirrored = carvings.map((c) => {
      const m = structuredClone(c) as unknown as Record<string, unknown>;
      if (c.carving !== 'crossed' && c.carving !== 'holes' && 'hand' in carvingSchemaShape(c))
        m.hand = m.hand === 'left' ? 'right' : 'left';
      if (typeof m.turned === 'number') m.turned = -m.turned;
      return m as unknown as Carving;
    });
    const other = made({ form, carvings: mirrored });
    const next = random(10);
    for (let i = 0; i < 300; i++) {
      const x = next() * LENGTH;
      const theta = next() * TURN;
      expect(other.radius(x, -theta)).toBeCloseTo(field.radius(x, theta), 9);
    }
  });

  test('has guides that are fine enough and lie on the bottom', () => {
    for (const { line, depth, width, label } of field.guides) {
      expect(label).not.toBe('');
      expect(depth > 0 && width > 0).toBe(true);
      let wrong = 0;
      for (let i = 0; i < line.length; i += 2) {
        const [x, theta] = [line[i]!, line[i + 1]!];
        if (i) {
          expect(x - line[i - 2]!).toBeLessThanOrEqual(1 + 1e-9);
          expect(Math.abs(theta - line[i - 1]!)).toBeLessThanOrEqual(TURN / 360 + 1e-9);
        }
        const r = field.radius(x, theta);
        const beside = 0.1 / r;
        if (single && (field.radius(x, theta + beside) < r - 1e-9 || field.radius(x, theta - beside) < r - 1e-9))
          wrong++;
      }
      // Where two sets cross, a guide runs through the other set's grooves.
      if (single && carvings[0]!.carving !== 'crossed') expect(wrong).toBe(0);
    }
  });
});

const carvingSchemaShape = (c: Carving) => carvingKinds.find((k) => k.kind === c.carving)!.schema.shape;

/** Whether a crease of the sections passes over a line of constant own angle at x: then the slope jumps there, and no break is owed. */
const passesCrease = (field: Field, theta: number, x: number): boolean =>
  field.creases(x).some((c) => Math.abs(Math.sin((c - theta - field.turning(x)) / 2)) < 1e-3);

test('a right-hand twist turns with θ growing along x, a left-hand one against it', () => {
  const turned = (hand: 'right' | 'left') =>
    made({
      form: [{ element: 'cylinder', length: 100, start: 40 }],
      carvings: [
        { carving: 'flutes', count: 8, depth: 2, land: 0.5, ends: 'square' },
        { carving: 'twist', turns: 0.25, hand, ease: 0 },
      ],
    });
  expect(turned('right').turning(100)).toBeCloseTo(TURN / 4, 12);
  expect(turned('left').turning(100)).toBeCloseTo(-TURN / 4, 12);
  for (const theta of [0, 0.1, 0.2, 0.35]) {
    expect(turned('right').radius(30, theta + 0.3 * (TURN / 4))).toBeCloseTo(turned('right').radius(0, theta), 9);
    expect(turned('left').radius(30, theta - 0.3 * (TURN / 4))).toBeCloseTo(turned('left').radius(0, theta), 9);
  }
});

test('an eased twist starts and ends without a kink and reaches its turns', () => {
  const { turning } = made({
    form,
    carvings: [
      { carving: 'flutes', count: 8, depth: 2.5, land: 0.3 },
      { carving: 'twist', turns: 2, from: 20, to: 90, ease: 20 },
    ],
  });
  expect(turning(20)).toBe(0);
  expect(turning(95)).toBeCloseTo(2 * TURN, 12);
  expect(turning(55)).toBeCloseTo(TURN, 12);
  for (const x of [20, 40, 70, 90]) {
    const slope = (s: number) => (turning(x + s * 1e-6) - turning(x)) / (s * 1e-6);
    expect(slope(1)).toBeCloseTo(slope(-1), 4);
  }
});

test('twists add up, each in its own range', () => {
  const { turning } = made({
    form,
    carvings: [
      { carving: 'flutes', count: 8, depth: 2.5, land: 0.3 },
      { carving: 'twist', turns: 0.5, from: 14, to: 50 },
      { carving: 'twist', turns: 0.75, hand: 'left', from: 40, to: 90 },
    ],
  });
  expect(turning(14)).toBe(0);
  expect(turning(40)).toBeGreaterThan(0);
  expect(turning(100)).toBeCloseTo(-TURN / 4, 12);
});

test('a range that only touches a carving is round where it runs out, and not where it ends square', () => {
  const round = (ends: 'round' | 'square') => {
    const { isRound } = made({
      form,
      carvings: [{ carving: 'flutes', count: 8, depth: 2.5, land: 0.3, ends, from: 20, to: 60 }],
    });
    return [isRound(0, 20), isRound(60, LENGTH), isRound(19, 20.01), isRound(59.9, 61)];
  };
  expect(round('round')).toEqual([true, true, false, false]);
  expect(round('square')).toEqual([false, false, false, false]);
});

test('a carving over elements follows them when the form is stretched', () => {
  const stretched = (length: number) =>
    made({
      length,
      form: [
        { element: 'bead', length: 12, start: 36 },
        { element: 'taper', share: 1, start: 40, end: 32 },
        { element: 'bead', length: 12 },
      ],
      carvings: [{ carving: 'flutes', count: 8, depth: 2, land: 1, over: [1, 1], inset: 5 }],
    });
  for (const length of [100, 320]) {
    const { guides } = stretched(length);
    expect(guides[0]!.line[0]).toBe(17);
    expect(guides[0]!.line.at(-2)).toBe(length - 17);
  }
});

test('holes are listed row by row, evenly around, and leave the surface as it is', () => {
  const { holes, radius } = made({
    form,
    carvings: [
      { carving: 'holes', count: 4, rows: 2, staggered: true, diameter: 5, depth: 6, from: 20, to: 60, turned: 90 },
    ],
  });
  expect(holes.map((h) => h.x)).toEqual([20, 20, 20, 20, 60, 60, 60, 60]);
  expect(holes[0]!.theta).toBeCloseTo(TURN / 4, 12);
  expect(holes[4]!.theta).toBeCloseTo(TURN / 4 + TURN / 8, 12);
  expect(radius(20, TURN / 4)).toBe(plain.radius(20, TURN / 4));
});
