import fc from 'fast-check';
import { expect, test } from 'vitest';
import { benches, bits, materials } from '../../shared/catalog.ts';
import { hardwoodChipLoad, workingDiameter } from '../../src/cam/chip-load.ts';
import { cantileverGive, cuttingPower, edgeForce, removalRate, surfaceSpeed } from '../../src/cam/cutting.ts';
import { limitsFor } from '../../src/cam/feeds.ts';
import { row } from '../support/cam-job.ts';

const maple = row(materials, 'sugar-maple');
const middle = row(benches, 'middle');
const cases = benches.flatMap((bench) =>
  bits.flatMap((bit) =>
    materials.map((material) => ({ bit, material, bench, limits: limitsFor(bit, material, bench, { radius: 40 }) })),
  ),
);

test('a 6 mm flat bit in maple on a middling bench gets what a workshop would use (common practice, no source)', () => {
  const l = limitsFor(row(bits, 'flat-6'), maple, middle);
  expect(l.rpm).toBeGreaterThanOrEqual(14_000);
  expect(l.rpm).toBeLessThanOrEqual(18_000);
  expect(l.feed).toBeGreaterThanOrEqual(1200);
  expect(l.feed).toBeLessThanOrEqual(2100);
  expect(l.stepDown).toBeGreaterThanOrEqual(1.5);
  expect(l.stepDown).toBeLessThanOrEqual(2.5);
  expect(l.stepOver).toBeCloseTo(2.4, 9);
});

test('every bit in every material on every bench stays within spindle, axes, power, torque and the bit’s own give', () => {
  for (const { bit, material, bench, limits } of cases) {
    expect(limits.rpm).toBeGreaterThanOrEqual(bench.spindleMin);
    expect(limits.rpm).toBeLessThanOrEqual(bench.spindleMax);
    if (limits.rpm > bench.spindleMin)
      expect(surfaceSpeed(limits.rpm, bit.diameter)).toBeLessThanOrEqual(material.surfaceSpeed * 1.0001);
    for (const feed of [limits.feed, limits.finishFeed]) {
      expect(feed).toBeGreaterThan(0);
      expect(feed).toBeLessThanOrEqual(bench.axialMax);
      const power = cuttingPower(removalRate(limits.stepDown, limits.stepOver, feed), material.cuttingForce * 1.25);
      expect(power).toBeLessThanOrEqual(0.6 * bench.spindlePower + 1e-9);
    }
    expect(limits.plungeFeed).toBeLessThanOrEqual(bench.radialMax);
    expect(limits.stepDown).toBeGreaterThanOrEqual(0.01);
    expect(limits.stepDown).toBeLessThanOrEqual(bit.fluteLength);
    expect(limits.stepOver).toBeLessThan(bit.diameter / 2);
    const chip = limits.feed / (limits.rpm * bit.teeth);
    const force = edgeForce(material.cuttingForce * 1.25, limits.stepDown, chip);
    if (limits.stepDown > 0.01) {
      expect(cantileverGive(force, bit.stickOut, workingDiameter(bit), 600_000)).toBeLessThanOrEqual(0.1001);
      expect((force * 40) / 1000).toBeLessThanOrEqual(bench.rotary.holdingTorque * 0.4 * 1.001);
    }
    expect(limits.why).toHaveLength(8);
    for (const sentence of limits.why) expect(sentence).toMatch(/^[A-Z].*\.$/);
  }
});

test('chip loads grow with the diameter, and softwood takes no less than hardwood, hardwood no less than metal', () => {
  // The order is common practice; no handbook gives the values.
  fc.assert(
    fc.property(
      fc.double({ min: 0.1, max: 20, noNaN: true }),
      fc.double({ min: 0, max: 5, noNaN: true }),
      (d, more) => {
        expect(hardwoodChipLoad(d + more)).toBeGreaterThanOrEqual(hardwoodChipLoad(d));
      },
    ),
    { seed: 61, numRuns: 200 },
  );
  expect(hardwoodChipLoad(6.35)).toBeCloseTo(0.1, 12);
  expect(hardwoodChipLoad(50)).toBe(0.25);
  const bit = row(bits, 'flat-quarter');
  const feed = (id: string) => limitsFor(bit, row(materials, id), middle).feed;
  expect(feed('white-pine')).toBeGreaterThan(feed('sugar-maple'));
  expect(feed('sugar-maple')).toBeGreaterThan(feed('aluminium-6061'));
});

test('a weak rotary makes the layers thinner, and says so', () => {
  const bit = row(bits, 'flat-half');
  const weak = { ...middle, rotary: { ...middle.rotary, holdingTorque: 0.3 } };
  const strong = limitsFor(bit, maple, middle, { radius: 60 });
  const thin = limitsFor(bit, maple, weak, { radius: 60 });
  expect(thin.stepDown).toBeLessThan(strong.stepDown);
  expect(thin.why[4]).toMatch(/holding torque at a radius of 60 mm/);
  // Half the radius, twice the depth.
  expect(limitsFor(bit, maple, weak, { radius: 30 }).stepDown / thin.stepDown).toBeCloseTo(2, 1);
});

test('a slender bit is held back by its own give, and says so', () => {
  const slender = { ...row(bits, 'flat-eighth'), stickOut: 150 };
  const l = limitsFor(slender, maple, middle);
  expect(l.stepDown).toBeLessThan(limitsFor(row(bits, 'flat-eighth'), maple, middle).stepDown);
  expect(l.why[4]).toMatch(/the bit gives 0\.1 mm at 150 mm/);
});

test('metal is cut at its surface speed, wood at the spindle’s comfort', () => {
  expect(limitsFor(row(bits, 'flat-6'), row(materials, 'brass'), middle).why[0]).toMatch(/200 m\/min/);
  expect(limitsFor(row(bits, 'flat-6'), maple, middle).why[0]).toMatch(/75 %/);
});

test('a spindle that cannot turn slowly enough is told of', () => {
  const fast = { ...middle, spindleMin: 16_000 };
  const l = limitsFor(row(bits, 'flat-half'), row(materials, 'brass'), fast);
  expect(l.rpm).toBe(16_000);
  expect(l.why[0]).toMatch(/turns no slower/);
});

test('a small spindle slows the feed, and says so', () => {
  const small = { ...middle, spindlePower: 20 };
  const l = limitsFor(row(bits, 'flat-half'), maple, small);
  expect(l.why[1]).toMatch(/12 W of the spindle/);
});

test('an end that does not cut to its centre never goes straight down', () => {
  const bit = { ...row(bits, 'flat-6'), centreCutting: false };
  const l = limitsFor(bit, maple, middle);
  expect(l.plunge).toBe(0);
  expect(l.rampAngle_deg).toBeLessThan(limitsFor(row(bits, 'flat-6'), maple, middle).rampAngle_deg);
});

test('a rounded end may finish faster in a thin skin, a square one not', () => {
  const ball = limitsFor(row(bits, 'ball-6'), maple, middle, { skin: 0.3 });
  expect(ball.finishFeed).toBeGreaterThan(ball.feed);
  const flat = limitsFor(row(bits, 'flat-6'), maple, middle, { skin: 0.3 });
  expect(flat.finishFeed).toBe(flat.feed);
});

test('a number that is asked for is taken, and told beside what would have been planned and why', () => {
  const bit = row(bits, 'flat-6');
  const plain = limitsFor(bit, maple, middle);
  const asked = limitsFor(bit, maple, middle, { asked: { feed: 900, stepDown: 1 } });
  expect(asked).toMatchObject({ feed: 900, stepDown: 1, rpm: plain.rpm });
  expect(asked.why[1]).toMatch(/^Feed 900 mm\/min: as you asked; \d+ mm\/min would be planned: a chip of/);
  expect(asked.why[4]).toMatch(/^Step-down 1 mm: as you asked; [\d.]+ mm would be planned: /);
  expect(asked.asked).toEqual({ feed: 900, stepDown: 1 });
  expect(plain.asked).toBeUndefined();
  // What follows from a number follows from the one that was asked for.
  expect(asked.plungeFeed).toBeLessThan(plain.plungeFeed);
  const slow = limitsFor(bit, maple, middle, { asked: { rpm: 9000 } });
  expect(slow.rpm).toBe(9000);
  expect(slow.feed / plain.feed).toBeCloseTo(9000 / plain.rpm, 1);
});

test('a finishing bit’s feed is that of its last cut', () => {
  const bit = row(bits, 'ball-6');
  const plain = limitsFor(bit, maple, middle);
  const asked = limitsFor(bit, maple, middle, { asked: { feed: 700 }, finishes: true });
  expect(asked.finishFeed).toBe(700);
  expect(asked.feed).toBe(plain.feed);
  expect(asked.why[2]).toMatch(/^Finishing feed 700 mm\/min: as you asked/);
});
