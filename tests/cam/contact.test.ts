import { describe, expect, test } from 'vitest';
import { CONTACT_ABOVE, CONTACT_BELOW } from '../../shared/tolerances.ts';
import { radians, TURN, wrapHalfTurn } from '../../shared/units.ts';
import { contactFor } from '../../src/cam/contact.ts';
import { fieldOf } from '../../src/profiles/build-field.ts';
import type { Surface } from '../../src/profiles/field.ts';
import { knowns } from '../support/closed-forms.ts';
import { cylinder, fieldFrom, fluted, step } from '../support/fields.ts';
import { oracle } from '../support/oracle.ts';
import { bitOf, dice, kinds, wildBit, wildSurface, wilds } from '../support/wild.ts';

/** The closed forms' table is written to six decimals. */
const WRITTEN = 6e-7;

describe('closed forms', () => {
  test.each(knowns)('$name', ({ surface, bit, x, theta, exact }) => {
    const contact = contactFor(surface, bit);
    const out = new Float64Array(1);
    contact.along(Float64Array.of(x), Float64Array.of(theta), out);
    for (const answer of [contact.lowest(x, theta), out[0]!]) {
      expect(answer - exact).toBeGreaterThan(-CONTACT_BELOW);
      expect(answer - exact).toBeLessThan(CONTACT_ABOVE / 2);
    }
    expect(Math.abs(oracle(surface, bit, x, theta) - exact)).toBeLessThan(0.001 + WRITTEN);
  });
});

describe('against brute force', () => {
  const surfaces = 45;
  const each = 9;
  for (const kind of kinds) {
    test(`${kind}: ${surfaces * each} places on ${surfaces} random parts with flutes, reeds, prisms, facets, grooves and shoulders (seeds 9000…)`, () => {
      const wrong: string[] = [];
      let exact = 0;
      let samples = 0;
      for (let f = 0; f < surfaces; f++) {
        const roll = dice(9000 + 100 * kinds.indexOf(kind) + f);
        // Parts of one carving by turns, then parts of everything.
        const surface = wildSurface(roll, f % 2 ? wilds[f % wilds.length]! : undefined);
        const bit = wildBit(kind, roll);
        const contact = contactFor(surface, bit);
        // Short runs of near places, as paths are, so that the start from the last contact is taken too.
        const xs = new Float64Array(each);
        const thetas = new Float64Array(each);
        for (let q = 0; q < each; q++) {
          const near = q % 3 > 0;
          xs[q] = near ? xs[q - 1]! + roll(0, 0.05) : roll(-1, 41);
          thetas[q] = near ? thetas[q - 1]! + roll(0, 0.03) : roll(-7, 7);
        }
        const out = new Float64Array(each);
        contact.along(xs, thetas, out);
        for (let q = 0; q < each; q++) {
          const want = oracle(surface, bit, xs[q]!, thetas[q]!, 0, 0.08);
          const got = contact.lowest(xs[q]!, thetas[q]!);
          for (const [way, v] of [
            ['lowest', got],
            ['along', out[q]!],
          ] as const)
            if (!(v - want >= -CONTACT_BELOW && v - want <= CONTACT_ABOVE))
              wrong.push(`part ${f}, place ${q}, ${way}: ${v} instead of ${want}`);
        }
        exact += contact.work.exact;
        samples += contact.work.samples;
      }
      expect(wrong).toEqual([]);
      // The tiles were searched, not the field itself.
      expect(samples).toBeGreaterThan(surfaces * each * 50);
      expect(exact).toBeGreaterThan(0);
    });
  }

  test('the oracle finds the same with a net twice as fine (seed 77, 40 places)', () => {
    for (let f = 0; f < 8; f++) {
      const roll = dice(77 + f);
      const surface = wildSurface(roll);
      for (const kind of kinds) {
        const bit = wildBit(kind, roll);
        const x = roll(1, 39);
        const theta = roll(-3, 3);
        expect(
          Math.abs(oracle(surface, bit, x, theta, 0, 0.08) - oracle(surface, bit, x, theta, 0, 0.04)),
        ).toBeLessThan(0.001);
      }
    }
  });

  test('on a design whose groove cuts the narrow lands of twisted flutes into corners (seed 5, 100 places)', () => {
    const { field } = fieldOf({
      form: [
        { element: 'bead', length: 20, start: 36 },
        { element: 'taper', length: 60, end: 28 },
        { element: 'cove', length: 20 },
        { element: 'taper', length: 60, end: 34 },
      ],
      carvings: [
        { carving: 'flutes', count: 8, depth: 2.5, land: 0.3, over: [1, 1] },
        { carving: 'twist', turns: 1, over: [1, 1] },
        { carving: 'groove', starts: 2, width: 4, depth: 1.5, turns: 6, hand: 'left', over: [1, 1] },
      ],
    });
    const roll = dice(5);
    const wrong: number[] = [];
    for (const kind of kinds) {
      const bit = wildBit(kind, roll);
      const contact = contactFor(field!, bit);
      const xs = Float64Array.from({ length: 20 }, () => roll(-1, field!.to + 1));
      const thetas = Float64Array.from({ length: 20 }, () => roll(-4, 4));
      const out = new Float64Array(20);
      contact.along(xs, thetas, out);
      for (let q = 0; q < 20; q++) {
        const want = oracle(field!, bit, xs[q]!, thetas[q]!, 0, 0.04);
        for (const v of [contact.lowest(xs[q]!, thetas[q]!), out[q]!])
          if (!(v - want >= -CONTACT_BELOW && v - want <= CONTACT_ABOVE)) wrong.push(v - want);
      }
    }
    expect(wrong).toEqual([]);
  });

  test('with the bit beside the centre plane (seed 500, 100 places)', () => {
    for (let f = 0; f < 20; f++) {
      const roll = dice(500 + f);
      const surface = wildSurface(roll);
      for (const kind of kinds) {
        const bit = wildBit(kind, roll);
        const contact = contactFor(surface, bit);
        const [x, theta, y0] = [roll(0, 40), roll(-3, 3), roll(-2.5, 2.5)];
        const off = contact.lowest(x, theta, y0) - oracle(surface, bit, x, theta, y0, 0.08);
        expect(off).toBeGreaterThan(-CONTACT_BELOW);
        expect(off).toBeLessThan(CONTACT_ABOVE);
      }
    }
  });
});

describe('what must hold whatever the numbers', () => {
  const part = fluted(60, 12, 6, 1.5, 3, 0.4);
  const bits = kinds.map((kind) => wildBit(kind, dice(21)));
  const places = Array.from({ length: 25 }, (_, i) => ({ x: 1 + 2.3 * i, theta: 0.37 * i }));

  test('turning by one flute changes nothing', () => {
    for (const bit of bits) {
      const contact = contactFor(part, bit);
      for (const { x, theta } of places)
        expect(contact.lowest(x, theta + TURN / 6)).toBeCloseTo(contact.lowest(x, theta), 3);
    }
  });

  test('a part in the mirror gives the same in the mirror', () => {
    const mirror = fluted(60, 12, 6, 1.5, 3, -0.4);
    for (const bit of bits)
      for (const { x, theta } of places)
        expect(
          Math.abs(contactFor(mirror, bit).lowest(x, -theta) - contactFor(part, bit).lowest(x, theta)),
        ).toBeLessThan(0.003);
  });

  test('everything twice as large gives twice the answer', () => {
    const twice = fluted(120, 24, 6, 3, 6, 0.4);
    for (const bit of bits) {
      const large = {
        ...bit,
        diameter: 2 * bit.diameter,
        tipRadius: 2 * bit.tipRadius,
        tipDiameter: 2 * bit.tipDiameter,
      };
      const [small, big] = [contactFor(part, bit), contactFor(twice, large)];
      for (const { x, theta } of places)
        expect(Math.abs(big.lowest(2 * x, theta) - 2 * small.lowest(x, theta))).toBeLessThan(0.01);
    }
  });

  test('a larger bit of the same kind never goes lower', () => {
    for (const [small, large] of [
      [bitOf('flat', { diameter: 3 }), bitOf('flat', { diameter: 8 })],
      [bitOf('ball', { diameter: 3 }), bitOf('ball', { diameter: 8 })],
      [bitOf('vee', { includedAngle_deg: 60 }), bitOf('vee', { includedAngle_deg: 90 })],
      [bitOf('ball'), bitOf('flat')],
    ] as const) {
      const [a, b] = [contactFor(part, small), contactFor(part, large)];
      for (const { x, theta } of places) expect(b.lowest(x, theta)).toBeGreaterThan(a.lowest(x, theta) - 0.002);
    }
  });

  test('a part grown by e lifts every bit by e, less what the growth moves sideways', () => {
    const grown: Surface = { ...part, radius: (x, t, s) => part.radius(x, t, s) + 0.4 };
    const ringed: Surface = {
      ...grown,
      ring: (x, thetas, out, side) => {
        part.ring(x, thetas, out, side);
        for (let i = 0; i < out.length; i++) out[i]! += 0.4;
      },
    };
    for (const bit of [bitOf('flat'), bitOf('ball')]) {
      const [a, b] = [contactFor(part, bit), contactFor(ringed, bit)];
      for (const { x, theta } of places) {
        // Radial growth lifts a point by e·cos δ, and moves it out by e·sin δ.
        expect(b.lowest(x, theta) - a.lowest(x, theta)).toBeGreaterThan(0.4 * Math.cos(Math.asin(3 / 9)) - 0.05);
        expect(b.lowest(x, theta) - a.lowest(x, theta)).toBeLessThan(0.401 + 0.01);
      }
    }
  });

  test('a ball beside the centre plane is a ball on it at another angle', () => {
    // A ball at (y0, zc) stands on the centre plane of the part turned by atan2(y0, zc), at hypot(y0, zc).
    const ball = bitOf('ball', { tipRadius: 3 });
    const contact = contactFor(part, ball);
    for (const { x, theta } of places) {
      const y0 = 1.7;
      const zc = contact.lowest(x, theta, y0) + 3;
      const on = contact.lowest(x, theta + Math.atan2(y0, zc));
      expect(Math.abs(Math.hypot(y0, zc) - 3 - on)).toBeLessThan(0.004);
    }
  });
});

describe('ends and edges', () => {
  test('past the end face the rim of the face still counts, farther out nothing does', () => {
    const contact = contactFor(cylinder(40, 10), bitOf('ball'));
    expect(Math.abs(contact.lowest(41, 0) - (10 - 3 + Math.sqrt(8)))).toBeLessThan(0.001);
    expect(contact.lowest(43.1, 0)).toBe(0);
    expect(contact.lowest(-3.1, 0)).toBe(0);
  });

  test('ends of the material may be drawn in', () => {
    const contact = contactFor(step(40, 20, 11, 8), bitOf('flat'), { from: 20.5, to: 40 });
    expect(contact.lowest(22, 0)).toBeCloseTo(8, 3);
  });

  test('a bit wholly beside the part meets nothing', () => {
    expect(contactFor(cylinder(40, 5), bitOf('ball')).lowest(20, 0, 8.5)).toBe(0);
  });

  test('a wall far thinner than the samples is seen if it is announced', () => {
    const disc = fieldFrom({
      length: 40,
      breaks: [
        { x: 20, kind: 'shoulder' },
        { x: 20.01, kind: 'shoulder' },
      ],
      radius: (x, _t, side) =>
        (x > 20 || (x === 20 && side >= 0)) && (x < 20.01 || (x === 20.01 && side <= 0)) ? 12 : 8,
    });
    const contact = contactFor(disc, bitOf('ball'));
    expect(Math.abs(contact.lowest(20, 0) - 12)).toBeLessThan(0.001);
    expect(Math.abs(contact.lowest(18, 0) - (12 - 3 + Math.sqrt(5)))).toBeLessThan(0.001);
  });

  test('the point of a pyramid between the samples is met, from any side (seed 3, 80 places)', () => {
    // Sides of slope 0.8 and 0.9 fall away faster than the ball's own curve rises: it can only touch the point.
    const roll = dice(3);
    const ball = bitOf('ball', { tipRadius: 3 });
    for (let k = 0; k < 80; k++) {
      const [px, pt] = [roll(18, 22), roll(0, TURN)];
      const pyramid = fieldFrom({
        length: 40,
        symmetry: 1,
        radius: (x, theta) => {
          const along = Math.abs(x - px + 3 * wrapHalfTurn(theta - pt));
          const across = Math.abs(10 * wrapHalfTurn(theta - pt) - 0.3 * (x - px));
          return Math.max(8.5, 10 - 0.8 * along - 0.9 * across);
        },
      });
      const [u, v] = [roll(-1, 1), roll(-1, 1)];
      const delta = Math.asin(v / 10);
      const exact = 10 * Math.cos(delta) - 3 + Math.sqrt(9 - u * u - v * v);
      const out = new Float64Array(1);
      const contact = contactFor(pyramid, ball);
      contact.along(Float64Array.of(px - u), Float64Array.of(pt - delta), out);
      for (const answer of [contact.lowest(px - u, pt - delta), out[0]!]) {
        expect(answer - exact).toBeGreaterThan(-CONTACT_BELOW);
        expect(answer - exact).toBeLessThan(CONTACT_ABOVE);
      }
    }
  });

  test('the lip of a groove with upright sides is met between the samples (seed 13, 60 places)', () => {
    // Beyond the lip the side falls as a square root does, so the ball, on the low side, can only touch the lip.
    const roll = dice(13);
    const ball = bitOf('ball', { tipRadius: 3 });
    for (let k = 0; k < 60; k++) {
      const lip = roll(0, TURN);
      const grooved = fieldFrom({
        length: 40,
        symmetry: 1,
        radius: (_x, theta) => 10 - Math.min(1.2, Math.sqrt(1.2 * 10 * Math.max(0, wrapHalfTurn(theta - lip)))),
      });
      const delta = Math.asin(roll(1.2, 1.8) / 10);
      const exact = 10 * Math.cos(delta) - 3 + Math.sqrt(9 - (10 * Math.sin(delta)) ** 2);
      const out = new Float64Array(1);
      const contact = contactFor(grooved, ball);
      contact.along(Float64Array.of(20), Float64Array.of(lip + delta), out);
      for (const answer of [contact.lowest(20, lip + delta), out[0]!]) {
        expect(answer - exact).toBeGreaterThan(-CONTACT_BELOW);
        expect(answer - exact).toBeLessThan(CONTACT_ABOVE);
      }
    }
  });

  test('round stretches are answered from the table, the same as by the search', () => {
    const surface = wildSurface(dice(4), 'plain');
    for (const kind of kinds) {
      const bit = wildBit(kind, dice(8));
      const table = contactFor(surface, bit);
      const n = 400;
      const xs = Float64Array.from({ length: n }, (_, i) => 40 * (i / n));
      const out = new Float64Array(n);
      table.along(xs, new Float64Array(n), out);
      expect(table.work.table).toBe(n);
      for (let i = 0; i < n; i += 7) {
        const off = out[i]! - oracle(surface, bit, xs[i]!, 0, 0, 0.08);
        expect(off).toBeGreaterThan(-CONTACT_BELOW);
        expect(off).toBeLessThan(CONTACT_ABOVE);
      }
    }
  });

  test('the same question has the same answer, whatever was asked before', () => {
    const surface = wildSurface(dice(31));
    const bit = bitOf('ball');
    const [a, b] = [contactFor(surface, bit), contactFor(surface, bit)];
    for (let i = 0; i < 40; i++) b.lowest(39 - i, i);
    for (let i = 0; i < 40; i++) expect(a.lowest(i, i)).toBe(b.lowest(i, i));
  });

  test('any turn of the rotary will do', () => {
    const contact = contactFor(fluted(60, 12, 6, 1.5, 3, 0.4), bitOf('flat'));
    expect(contact.lowest(30, radians(20) + 400 * TURN)).toBeCloseTo(contact.lowest(30, radians(20)), 5);
  });
});
