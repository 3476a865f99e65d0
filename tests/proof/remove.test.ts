/** Wood taken by one bit against closed forms, and that nothing is taken twice or lost. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Bit } from '../../shared/catalog.ts';
import { TURN } from '../../shared/units.ts';
import type { Blank } from '../../src/cam/blank.ts';
import { layGrid } from '../../src/cam/proof/grid.ts';
import { Cutter } from '../../src/cam/proof/remove.ts';
import { enter, inside, shapeOf } from '../../src/cam/proof/shape.ts';
import { type Place, Walker } from '../../src/cam/proof/walk.ts';
import { Wood } from '../../src/cam/proof/wood.ts';
import { cylinder } from '../support/fields.ts';
import { bitOf, proofJob } from '../support/proof-job.ts';

const LENGTH = 20;
const round = (width: number): Blank => ({ section: 'round', width, height: width, sides: 0, from: 0, to: LENGTH });
const square = (width: number): Blank => ({ section: 'square', width, height: width, sides: 4, from: 0, to: LENGTH });

/** A fresh blank around a thin peg, and a bit that can be taken along moves. */
function bench(blank: Blank, bit: Bit, cell = 0.1) {
  const none = { from: 0, to: 0, radius: 0 };
  const job = proofJob({ blank, stubs: { chuck: none, tail: none } }, 30, cylinder(LENGTH, 6));
  const wood = new Wood(layGrid(job, { cell, most: 5_000_000, tolerance: 0 }));
  const cutter = new Cutter(wood, shapeOf(bit), 1e9, () => {});
  const walker = new Walker(cutter, shapeOf(bit));
  let removed = 0;
  return {
    wood,
    cutter,
    along(from: Place, to: Place) {
      walker.along(from, to, (_p, bite) => {
        removed += bite.volume;
      });
    },
    get removed() {
      return removed;
    },
  };
}

describe('closed forms', () => {
  test('the blank itself: a square prism, a hexagon, a cylinder', () => {
    const bit = bitOf('flat-6');
    expect(bench(square(30), bit).wood.volume() / (900 * LENGTH)).toBeCloseTo(1, 3);
    const hexagon: Blank = { ...square(30), section: 'polygon', sides: 6 };
    expect(bench(hexagon, bit).wood.volume() / ((6 * 900 * Math.tan(Math.PI / 6)) / 4) / LENGTH).toBeCloseTo(1, 3);
    const rectangle: Blank = { ...square(30), section: 'rectangle', height: 20 };
    expect(bench(rectangle, bit).wood.volume() / (600 * LENGTH)).toBeCloseTo(1, 3);
    expect(bench(round(30), bit).wood.volume() / (225 * Math.PI * LENGTH)).toBeCloseTo(1, 6);
  });

  test('a square turned to a cylinder loses (4a² − πρ²) for each mm', () => {
    const b = bench(square(30), bitOf('flat-6'));
    // A spiral well beyond both ends, pitch below the bit's width.
    b.along({ x: -4, r: 14, theta: 0 }, { x: 24, r: 14, theta: 14 * TURN });
    expect(b.removed / ((900 - Math.PI * 196) * LENGTH)).toBeCloseTo(1, 3);
    expect(Math.max(...b.wood.outer)).toBeLessThan(14.002);
    expect(Math.min(...b.wood.outer)).toBeGreaterThan(13.999);
  });

  test('a flat slot on a flat face is width × depth × length: its walls are parallel, rays tunnel', () => {
    const b = bench(square(30), bitOf('flat-6'));
    b.along({ x: -4, r: 11, theta: 0 }, { x: 24, r: 11, theta: 0 });
    expect(b.removed / (6 * 4 * LENGTH)).toBeCloseTo(1, 2);
    expect(b.wood.pieces.size).toBeGreaterThan(0);
  });

  test('a ball’s track along a round bar is the lens of two circles', () => {
    const b = bench(round(30), bitOf('ball-6'));
    b.along({ x: -4, r: 12.5, theta: 0.3 }, { x: 24, r: 12.5, theta: 0.3 });
    // Circle–circle intersection (any geometry handbook): radii 3 and 15, centres 15.5 apart.
    const [r, R, d] = [3, 15, 15.5];
    const lens =
      r * r * Math.acos((d * d + r * r - R * R) / (2 * d * r)) +
      R * R * Math.acos((d * d + R * R - r * r) / (2 * d * R)) -
      0.5 * Math.sqrt((-d + r + R) * (d + r - R) * (d - r + R) * (d + r + R));
    expect(b.removed / (lens * LENGTH)).toBeCloseTo(1, 2);
  });

  test.each([
    ['vee', { ...bitOf('vee-60'), tipDiameter: 0 }],
    ['ball', bitOf('ball-6')],
    ['bull', bitOf('bull-6')],
    ['flat', bitOf('flat-6')],
    ['tapered ball', bitOf('tapered-one')],
  ])('a ring cut by a %s is its own silhouette turned: ∫π(S² − (ρ + h(u))²)du', (_name, bit) => {
    const b = bench(round(30), bit);
    const tip = 13.2;
    b.along({ x: 10, r: tip, theta: 0 }, { x: 10, r: tip, theta: TURN });
    // Heights of the silhouettes, written out once more.
    const beta = ((bit.includedAngle_deg / 2) * Math.PI) / 180;
    const h = (u: number): number => {
      const R = bit.diameter / 2;
      if (u > R) return Infinity;
      if (bit.kind === 'flat') return 0;
      if (bit.kind === 'ball') return R - Math.sqrt(R * R - u * u);
      if (bit.kind === 'bull') return u <= R - 1 ? 0 : 1 - Math.sqrt(1 - (u - R + 1) ** 2);
      if (bit.kind === 'vee') return u / Math.tan(beta);
      return u <= Math.cos(beta)
        ? 1 - Math.sqrt(1 - u * u)
        : 1 - Math.sin(beta) + (u - Math.cos(beta)) / Math.tan(beta);
    };
    let volume = 0;
    const n = 20000;
    for (let k = 0; k < n; k++) {
      const top = tip + h(((k + 0.5) * bit.diameter) / 2 / n);
      if (top < 15) volume += (2 * Math.PI * (225 - top * top) * bit.diameter) / 2 / n;
    }
    expect(Math.abs(b.removed / volume - 1)).toBeLessThan(0.02);
  });
});

describe('balance', () => {
  test('what the moves took is what is gone, whatever the moves', () => {
    const move = fc.record({
      x: fc.integer({ min: -20, max: 220 }).map((n) => n / 10),
      r: fc.integer({ min: 40, max: 180 }).map((n) => n / 10),
      theta: fc.integer({ min: -60, max: 60 }).map((n) => n / 10),
    });
    fc.assert(
      fc.property(
        fc.constantFrom('flat-6', 'ball-6', 'bull-6', 'vee-60', 'tapered-one', 'flat-half'),
        fc.array(move, { minLength: 2, maxLength: 5 }),
        (id, places) => {
          const b = bench(square(30), bitOf(id), 0.4);
          const before = b.wood.volume();
          for (let k = 1; k < places.length; k++) b.along(places[k - 1]!, places[k]!);
          expect(Math.abs(before - b.wood.volume() - b.removed)).toBeLessThan(1e-4 * before);
          for (const pieces of b.wood.pieces.values())
            for (let k = 1; k < pieces.length; k++) expect(pieces[k]!).toBeGreaterThan(pieces[k - 1]!);
        },
      ),
      { seed: 11, numRuns: 25 },
    );
  });

  test('a way cut twice takes nothing the second time', () => {
    const b = bench(square(30), bitOf('ball-6'), 0.3);
    const from = { x: -4, r: 12, theta: 0 };
    const to = { x: 24, r: 10, theta: 9 };
    b.along(from, to);
    const once = b.removed;
    b.along(from, to);
    expect(once).toBeGreaterThan(100);
    expect(b.removed - once).toBeLessThan(1e-3 * once);
  });

  test.each(['flat-6', 'ball-6', 'bull-6', 'vee-90', 'tapered-one'])(
    'no ray that ends inside a %s is passed over',
    (name) => {
      const bit = bitOf(name);
      const shape = shapeOf(bit);
      const b = bench(square(30), bit, 0.2);
      const { xs, columns } = b.wood.grid;
      let left = 0;
      let met = 0;
      // Shallow bites, deeper and deeper: most of what stands under the bit is only just met, and uneven from those before.
      for (let k = 0; k < 60; k++) {
        const theta = 0.7 * k;
        const x = 4 + ((k * 3.7) % 12);
        const tip = 19 - k / 10;
        if (b.cutter.place(x, tip, theta, 0, 0, false).volume > 0) met++;
        for (let i = 0; i < xs.length; i++)
          for (let j = 0; j < columns; j++) {
            const s = b.wood.outer[i * columns + j]!;
            const delta = (j * TURN) / columns - theta;
            const cos = Math.cos(delta);
            if (cos <= 0 || Math.abs(xs[i]! - x) > shape.R || !inside(shape, tip, xs[i]! - x, Math.sin(delta), cos, s))
              continue;
            if (s - enter(shape, tip, xs[i]! - x, Math.sin(delta), cos) > 0.001) left++;
          }
      }
      expect(met).toBeGreaterThan(30);
      expect(left).toBe(0);
    },
  );

  test('bounds over runs and rows are never below a ray', () => {
    const b = bench(square(30), bitOf('flat-6'), 0.3);
    b.along({ x: 3, r: 11, theta: 0.7 }, { x: 17, r: 9, theta: 5 });
    const m = b.wood.grid.columns;
    for (let i = 0; i < b.wood.grid.xs.length; i++)
      for (let j = 0; j < m; j++) {
        const r = b.wood.outer[i * m + j]!;
        expect(b.wood.runTop[i * b.wood.runs + Math.floor(j / 8)]! >= r && b.wood.rowTop[i]! >= r).toBe(true);
      }
  });
});
