import { expect, test } from 'vitest';
import { blankVolume } from '../../src/cam/blank.ts';
import { costOf, type PieceFacts } from '../../src/cam/price/cost.ts';
import { cents, exact, moneyText, over, times } from '../../src/cam/price/exact.ts';
import { PRICE_DEFAULTS } from '../../src/cam/price/options.ts';
import { priceOf } from '../../src/cam/price.ts';
import { surfaceArea } from '../../src/profiles/surface-area.ts';
import { jobFor } from '../support/cam-job.ts';
import { cone, cylinder, prism, sphere, step } from '../support/fields.ts';

const job = jobFor(cylinder(200, 20));
const free = { price: undefined, life_h: undefined };
const cutting = (time_s: number) => [{ bit: free, time_s }];

test('stock is its volume in litres times the price, with the waste on top', () => {
  const price = priceOf(job, [], { waste: 0.25 });
  expect(price.material).toBeCloseTo((blankVolume(job.blank) / 1e6) * job.material.price * 1.25, 2);
});

test('the bench is paid by the hour, a person by the hour too, setting up shared by the run', () => {
  const rates = { setup_min: 30, hand_min: 12, labourRate: 20, finish_min_dm2: 0 };
  const one = priceOf(job, cutting(1800), { ...rates, parts: 1 });
  expect(one.machine).toBe(job.bench.hourlyRate / 2);
  expect(one.labour).toBe(14);
  expect(priceOf(job, cutting(1800), { ...rates, parts: 10 }).labour).toBe(5);
});

test('the cost of making is the sum, in an invented currency by default', () => {
  const p = priceOf(job, cutting(1234));
  expect(p.unit).toBeCloseTo(p.material + p.machine + p.labour, 9);
  expect(p.currency).toBe('units');
});

/** Round numbers, so that every line can be reckoned in the head. */
const piece: PieceFacts = {
  stock: 500_000,
  surface: 20_000,
  work: [
    { bit: { price: 20, life_h: 10 }, time_s: 1800 },
    { bit: { price: 30, life_h: 20 }, time_s: 3600 },
  ],
  materialPrice: 8,
  benchRate: 12,
};
const rates = {
  ...PRICE_DEFAULTS,
  waste: 0.25,
  setup_min: 60,
  hand_min: 10,
  finish_min_dm2: 5,
  labourRate: 24,
  scrap: 0.2,
  overhead: 0.5,
  margin: 0.4,
};

test('every line of a price, reckoned by hand', () => {
  expect(costOf(piece, rates, 4)).toEqual({
    quantity: 4,
    material: 500, // half a litre at 8.00, a quarter more for the saw
    machine: 1800, // an hour and a half at 12.00
    wear: 250, // half of ten hours' life of 20.00 per hour: 1.00, and a twentieth of 30.00: 1.50
    hand: 800, // 10 min and 2 dm² at 5 min: 20 min at 24.00 an hour
    setup: 600, // an hour at 24.00 over four pieces
    scrap: 838, // (5 + 18 + 2.50 + 8) · 0.2 ÷ 0.8 = 8.375, a half upward
    overhead: 2394, // half of 5 + 18 + 2.50 + 8 + 6 + 8.38 = 47.88
    cost: 7182,
    unit: 11970, // 71.82 ÷ 0.6
    profit: 4788,
    bench_s: 6750, // 5400 ÷ 0.8
    person_s: 2400, // 1200 ÷ 0.8 and a quarter of an hour
  });
});

test('more pieces share the setting up and nothing else', () => {
  const [one, ten] = [costOf(piece, rates, 1), costOf(piece, rates, 10)];
  expect(one.setup).toBe(2400);
  expect(ten.setup).toBe(240);
  for (const line of ['material', 'machine', 'wear', 'hand', 'scrap'] as const) expect(ten[line]).toBe(one[line]);
  expect(ten.unit).toBeLessThan(one.unit);
});

test('stock that a cut list gives has its waste in it already', () => {
  expect(costOf({ ...piece, nested: true }, rates, 1).material).toBe(400);
});

test('margin is a share of the selling price: none of it is lost or found by rounding', () => {
  for (let n = 1; n <= 60; n++) {
    const c = costOf({ ...piece, stock: 1000 * n + 7 }, { ...rates, margin: 0.3 }, n);
    expect(c.material + c.machine + c.wear + c.hand + c.setup + c.scrap + c.overhead).toBe(c.cost);
    expect(c.cost + c.profit).toBe(c.unit);
    expect(Math.abs(c.profit - 0.3 * c.unit)).toBeLessThanOrEqual(0.5);
  }
});

test('sums of money are exact: a half cent goes up, also where decimals of a computer fall short of it', () => {
  // 1.005 and 2.675 are below the half in binary (IEEE 754 double): toFixed(2) gives 1.00 and 2.67.
  expect([cents(exact(1.005)), cents(exact(2.675)), cents(exact(0.1 + 0.2))]).toEqual([101, 268, 30]);
  expect(cents(times(exact(3), over(exact(1), exact(3))))).toBe(100);
  expect([moneyText(5), moneyText(120), moneyText(-1234567)]).toEqual(['0.05', '1.20', '-12345.67']);
  expect(() => exact(Infinity)).toThrow(RangeError);
});

test('surfaces are their closed forms: cylinder, cone, sphere (Archimedes), shoulder, square prism', () => {
  expect(surfaceArea(cylinder(200, 20))).toBeCloseTo(2 * Math.PI * 20 * 200, 6);
  // Frustum: π(r₀ + r₁)·slant.
  expect(surfaceArea(cone(50, 10, 0.2))).toBeCloseTo(Math.PI * 30 * Math.hypot(50, 10), 6);
  expect(surfaceArea(step(60, 20, 8, 15))).toBeCloseTo(2 * Math.PI * (8 * 20 + 15 * 40) + Math.PI * (225 - 64), 6);
  // A zone of a sphere has the area 2πR·h (Archimedes, On the Sphere and Cylinder I).
  const ball = sphere(20, 2);
  expect(surfaceArea(ball) / (2 * Math.PI * 20 * ball.length)).toBeCloseTo(1, 2);
  // Plane faces: the chords between its columns cut the arrises a little short.
  const square = prism(100, 15);
  expect(surfaceArea(square) / (4 * 30 * 100)).toBeCloseTo(1, 3);
});
