import { expect, test } from 'vitest';
import { materials } from '../../shared/catalog.ts';
import { TURN } from '../../shared/units.ts';
import { roundInertia, sectionOf } from '../../src/cam/beam.ts';
import type { Job } from '../../src/cam/job.ts';
import {
  bendingLimit,
  bitForce,
  finishingForce,
  roughingForce,
  stagesOf,
  strengthOf,
  stubRadiusFor,
  torsionLimit,
} from '../../src/cam/strength.ts';
import { jobFor, row } from '../support/cam-job.ts';
import { cylinder, fieldFrom, step } from '../support/fields.ts';

/** Form as long and thick as everything between chuck and centre: a plain bar of one diameter. */
function plainBar(length: number, r: number, more: Partial<Job> = {}): Job {
  const base = jobFor(cylinder(length, r));
  return {
    ...base,
    blank: { ...base.blank, from: -20, to: length },
    stubs: { chuck: { from: 0, to: 0, radius: r }, tail: { from: length, to: length, radius: r } },
    plan: { ...base.plan, allowance: 1e-9 },
    ...more,
  };
}
const maple = row(materials, 'sugar-maple');

test('a plain bar between chuck and centre gives FL³/48EI in its middle, the worse of the two ways of holding', () => {
  const job = plainBar(300, 6);
  const s = strengthOf(job);
  expect(s.atX).toBeCloseTo(150, 6);
  expect(s.worstDeflection).toBeCloseTo((roughingForce(job) * 300 ** 3) / (48 * maple.modulus * roundInertia(12)), 4);
});

test('its stress is 32M/πd³ of that load, against the strength of the weakest twentieth', () => {
  const job = plainBar(300, 6);
  const s = strengthOf(job);
  // The largest moment of all is the propped bar's at its fixed end, F·a·b·(L + b)/2L² at b = L/√3: 0.19245·FL; between
  // points it is FL/4 in the middle.
  const stress = (32 * (roughingForce(job) * 300)) / 4 / (Math.PI * 12 ** 3);
  expect(s.safetyFactor).toBeCloseTo(bendingLimit(maple) / stress, 2);
  // 1 − 1.645 × 16 % of 109 MPa (Wood Handbook, table 5-3a: sugar maple; COV from memory).
  expect(bendingLimit(maple)).toBeCloseTo(109 * 0.7368, 3);
  expect(torsionLimit(maple)).toBeLessThan(maple.shearStrength);
});

test('without a tailstock it is a bar held at one end', () => {
  const job = plainBar(120, 8, { holding: { chuckGrip: 20, chuckStub: 0, tailStub: 0, tailstock: false } });
  const s = strengthOf(job);
  expect(s.atX).toBeCloseTo(120, 9);
  expect(s.worstDeflection).toBeCloseTo((roughingForce(job) * 120 ** 3) / (3 * maple.modulus * roundInertia(16)), 4);
});

test('a thin neck is found: it gives and is weakest there', () => {
  const neck = fieldFrom({ length: 200, radius: (x) => (Math.abs(x - 150) < 10 ? 3 : 15) });
  const s = strengthOf(plainBar(200, 15, { field: neck }));
  const stout = strengthOf(plainBar(200, 15));
  expect(s.worstDeflection).toBeGreaterThan(5 * stout.worstDeflection);
  expect(s.safetyFactor).toBeLessThan(stout.safetyFactor / 5);
  expect(s.atX).toBeGreaterThan(100);
});

test('the way the part lies does not matter between points: mirrored it gives the same', () => {
  const one = strengthOf(plainBar(200, 15, { field: step(200, 80, 12, 6) }));
  const two = strengthOf(plainBar(200, 15, { field: step(200, 120, 6, 12) }));
  expect(two.worstDeflection / one.worstDeflection).toBeCloseTo(1, 1);
  expect(two.atX).toBeCloseTo(200 - one.atX, -1);
});

test('twist grows away from the chuck and shows on the surface: T·r·L/GJ', () => {
  const job = plainBar(300, 6);
  const end = strengthOf(job).along.at(-1)!;
  const J = (Math.PI * 12 ** 4) / 32;
  expect(end.twist).toBeCloseTo((roughingForce(job) * 6 * 6 * 300) / (maple.shearModulus * J), 4);
});

test('before the form is cut to size it is stiffer: roughing leaves the allowance on', () => {
  const thin = strengthOf(plainBar(300, 6, { plan: { ...plainBar(300, 6).plan, allowance: 0.5 } }));
  expect(thin.worstDeflection).toBeLessThan(strengthOf(plainBar(300, 6)).worstDeflection);
});

test('beside the form only the light force of finishing counts, since roughing was there before the neck was thin', () => {
  const neck = fieldFrom({ length: 100, radius: (x) => (x > 90 ? 1.5 : 12) });
  // Longer than the bits are wide: what they do not get down to would stand thicker.
  const s = strengthOf(jobFor(neck));
  const stub = s.along.find((a) => a.x > 105)!;
  const job = jobFor(neck);
  // Twist through the neck with its allowance or, finished, without: 16T/πd³ of finishing's force at the stub's radius.
  // The spiral there is no faster than the rotary turns, and the chip no thicker than that feed makes it.
  const { limits } = job.tools.finishing;
  const slowed = Math.min(1, (TURN * job.stubs.tail.radius * job.bench.rotary.maxSpeed) / limits.finishFeed);
  expect(slowed).toBeLessThan(1);
  const torque = finishingForce(job) * slowed * job.stubs.tail.radius;
  const bare = torsionLimit(job.material) / ((16 * torque) / (Math.PI * 3 ** 3));
  expect(stub.safetyFactor).toBeLessThanOrEqual(bare * 1.0001);
  expect(stub.safetyFactor).toBeGreaterThan(s.safetyFactor);
  expect(s.finishingSafety).toBeGreaterThanOrEqual(s.safetyFactor);
});

test('forces are those of the chip: specific force × depth × feed a tooth, dull', () => {
  const job = jobFor(cylinder(100, 20));
  const { limits, bit } = job.tools.roughing;
  const chip = limits.feed / (limits.rpm * bit.teeth);
  expect(roughingForce(job)).toBeCloseTo(maple.cuttingForce * 1.25 * limits.stepDown * chip, 9);
  expect(bitForce(job.tools.roughing, maple, 1, limits.feed / 2)).toBeCloseTo(
    maple.cuttingForce * 1.25 * 0.5 * chip,
    9,
  );
  expect(finishingForce(job)).toBeLessThan(roughingForce(job));
});

test('a neck for 40 N at a radius of 25 with 7 N/mm² and fourfold safety is 14.3 mm thick: d = ∛(16T·4/πτ)', () => {
  // τ = 16T/πd³ (textbook); shear two thirds of 10.5.
  expect(2 * stubRadiusFor(40 * 25, { ...maple, shearStrength: 10.5 })).toBeCloseTo(14.3, 1);
  expect(2 * stubRadiusFor(5 * 25, { ...maple, shearStrength: 10.5 })).toBeCloseTo(7.1, 1);
  expect(stubRadiusFor(0, maple)).toBe(0);
  expect(stubRadiusFor(8000, maple) / stubRadiusFor(1000, maple)).toBeCloseTo(2, 9);
});

test('a section’s weakest direction: round πr⁴/4, square a⁴/12 every way, rectangle its thin way', () => {
  const section = (r: (t: number) => number, n = 7200) =>
    sectionOf(Float64Array.from({ length: n }, (_, j) => r((j * 2 * Math.PI) / n)));
  expect(section(() => 10).inertia).toBeCloseTo((Math.PI * 1e4) / 4, 6);
  const box = (w: number, h: number) => (t: number) =>
    Math.min(w / 2 / Math.abs(Math.cos(t)), h / 2 / Math.max(1e-12, Math.abs(Math.sin(t))));
  expect(section(box(20, 20)).inertia / (20 ** 4 / 12)).toBeCloseTo(1, 5);
  expect(section(box(30, 10)).inertia / ((30 * 10 ** 3) / 12)).toBeCloseTo(1, 4);
  expect(section(box(10, 30)).inertia / ((30 * 10 ** 3) / 12)).toBeCloseTo(1, 4);
  expect(section(box(30, 10)).smallest).toBeCloseTo(5, 9);
  expect(section(box(30, 10)).largest).toBeCloseTo(Math.hypot(15, 5), 1);
});

test('strength is finite for a form thinner than its blank with stubs of its own', () => {
  for (const station of strengthOf(jobFor(cylinder(150, 10))).along) {
    expect(Number.isFinite(station.deflection)).toBe(true);
    expect(station.deflection).toBeGreaterThanOrEqual(0);
    expect(station.safetyFactor).toBeGreaterThan(0);
  }
});

test('each stage meets the bar as it then stands: corners the blank, roughing the allowance, finishing the form', () => {
  const job = plainBar(300, 6, { blank: { ...plainBar(300, 6).blank, width: 40, height: 40 } });
  const { answers } = stagesOf({ ...job, plan: { ...job.plan, allowance: 2 } });
  const give = (stage: string) => {
    const a = answers.find((answer) => answer.load.stage === stage)!;
    return a.give[80]! / a.load.force(150, 6);
  };
  // Square of 40: a⁴/12; round of 16 and of 12: πd⁴/64. Give goes with one over that.
  expect(give('corners') / give('finishing')).toBeCloseTo(roundInertia(12) / (40 ** 4 / 12), 3);
  expect(give('roughing') / give('finishing')).toBeCloseTo(roundInertia(12) / roundInertia(16), 6);
});

test('necking works on the stubs alone, when they are thin', () => {
  const job = jobFor(cylinder(100, 12));
  const { answers } = stagesOf({ ...job, plan: { ...job.plan, necking: true } });
  const a = answers.find((answer) => answer.load.stage === 'necking')!;
  expect(a.load.force(50, 12)).toBe(0);
  expect(a.load.force(105, 6)).toBeCloseTo(roughingForce(job) / 2, 9);
});

test('a tube gives more than a solid bar, by its ring’s share: 1 − (b/d)⁴', () => {
  const solid = plainBar(300, 10);
  const tube = { ...solid, blank: { ...solid.blank, bore: 12 } };
  const ratio = strengthOf(tube).finishingDeflection / strengthOf(solid).finishingDeflection;
  expect(ratio).toBeCloseTo(1 / (1 - (12 / 20) ** 4), 4);
});

test('stations say what each place is made of and what bound it', () => {
  const job = jobFor(step(200, 100, 6, 12));
  const { stations, along } = strengthOf(job);
  expect(stations.map(({ x }) => x)).toEqual(along.map(({ x }) => x));
  const thin = stations.find((s) => s.x > 20 && s.x < 80)!;
  expect(thin).toMatchObject({ smallest: 6, largest: 6, roughingFeed: 1, finishingFeed: 1 });
  expect(thin.inertia).toBeCloseTo(roundInertia(12), 6);
  expect(thin.limits).toEqual({ deflection: job.tolerance, safety: 2 });
  for (const s of stations) {
    expect(s.safetyFactor).toBe(Math.min(s.bendingSafety, s.torsionSafety));
    expect(s.deflection).toBeGreaterThanOrEqual(s.finishing);
  }
});

test('a tube’s neck is as thick as its ring asks: 16Td/π(d⁴ − b⁴) is a fourth of the shear strength', () => {
  const torque = 4000;
  const tau = (maple.shearStrength * 2) / 3 / 4;
  for (const bore of [4, 12, 30]) {
    const d = 2 * stubRadiusFor(torque, maple, undefined, bore);
    expect((16 * torque * d) / (Math.PI * (d ** 4 - bore ** 4))).toBeCloseTo(tau, 6);
  }
});
