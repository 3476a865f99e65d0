import { expect, test } from 'vitest';
import { bits, materials } from '../../shared/catalog.ts';
import { problemLine } from '../../shared/problems.ts';
import { checkFit } from '../../src/cam/fit.ts';
import type { Job } from '../../src/cam/job.ts';
import { jobFor, row } from '../support/cam-job.ts';
import { cylinder, fieldFrom, prism, step } from '../support/fields.ts';

const good = () => jobFor(cylinder(200, 20));
const codes = (job: Job) => checkFit(job).map((p) => p.code);
const find = (job: Job, code: string) => {
  const found = checkFit(job).find((p) => p.code === code);
  if (!found) throw new Error(`no ${code} in ${codes(job).join(', ')}`);
  return found;
};
const refused = (job: Job) =>
  checkFit(job)
    .filter((p) => p.severity === 'refuse')
    .map((p) => p.code);

test('a part that fits has nothing against it but the material’s caution', () => {
  expect(checkFit(good()).map((p) => [p.severity, p.code])).toEqual([['note', 'hazard']]);
});

test('every problem says where, what and, unless it is a note, what would mend it', () => {
  const bad = { ...jobFor(cylinder(400, 45), { bench: 'small' }), safeRadius: 80 };
  const problems = checkFit(bad);
  expect(problems.length).toBeGreaterThan(4);
  for (const p of problems) {
    expect(problemLine(p)).not.toMatch(/NaN|undefined|Infinity|-\d+ mm short/);
    expect(p.message).not.toMatch(/\.$/);
    if (p.severity !== 'note') expect(p.allowed).toBeTruthy();
  }
});

test('a bead wider than the blank is told with its place and by how much', () => {
  const bead = fieldFrom({ length: 200, radius: (x) => (Math.abs(x - 120) < 6 ? 24 : 15) });
  const job = { ...jobFor(bead), blank: { ...good().blank, width: 44, height: 44, to: 215 } };
  const p = find(job, 'blank-too-small');
  expect(p.message).toMatch(/radius of 24 mm, the blank has 22 mm there \(2 mm short\)/);
  expect(Number(/x = ([\d.]+)/.exec(p.message)![1])).toBeGreaterThan(113);
  expect(p.allowed).toMatch(/square blank of at least 48 mm/);
});

test('a square form fits a square blank of its own size, but not one turned by an eighth', () => {
  const job = { ...jobFor(prism(100, 20)), blank: { ...good().blank, width: 40, height: 40, to: 115 } };
  expect(codes(job)).not.toContain('blank-too-small');
  const square = prism(100, 20);
  const turned = fieldFrom({ length: 100, radius: (_, t) => square.radius(50, t + Math.PI / 4) });
  expect(codes({ ...job, field: turned })).toContain('blank-too-small');
});

test('kept lengths are the blank itself', () => {
  const field = { ...fieldFrom({ length: 200, radius: (x) => (x < 50 ? 60 : 15) }), kept: [{ from: 0, to: 50 }] };
  const job = { ...jobFor(field, { side: 45 }) };
  expect(codes(job)).not.toContain('blank-too-small');
});

test('a blank that ends before the form does is too short', () => {
  const job = good();
  expect(find({ ...job, blank: { ...job.blank, to: 190 } }, 'blank-too-small').message).toMatch(/10 mm before/);
});

test('the diagonal must swing, and clear the bed', () => {
  const job = good();
  // 43 mm square: 60.8 mm across the corners.
  expect(find({ ...job, bench: { ...job.bench, swing: 60 } }, 'swing').message).toMatch(
    /60\.8 mm, the bench swings 60/,
  );
  expect(refused({ ...job, bench: { ...job.bench, swing: 61 } })).toEqual([]);
  expect(find({ ...job, bench: { ...job.bench, bedBelow: 31 } }, 'swing').message).toMatch(/31\.9 mm below/);
});

test('the bit with its stick-out must clear the corners under the spindle', () => {
  const job = good();
  const p = find({ ...job, bench: { ...job.bench, roomAbove: 70 } }, 'room-above');
  // Corner 30.4 + 1.5 clearance + 40 stick-out.
  expect(p.message).toMatch(/71\.9 mm above the centre, the bench has 70 mm/);
  expect(p.allowed).toMatch(/38\.1 mm/);
  expect(refused({ ...job, bench: { ...job.bench, roomAbove: 72 } })).toEqual([]);
});

test('the length between jaws and centre, and the travel with its run-off', () => {
  const job = good();
  // From the jaws at −10 to the end at 215.
  expect(find({ ...job, bench: { ...job.bench, betweenCentres: 220 } }, 'blank-too-long').message).toMatch(
    /225 mm stand/,
  );
  // From −10 − 3 to 215 + 3.
  expect(find({ ...job, bench: { ...job.bench, axialTravel: 230 } }, 'travel').message).toMatch(/231 mm along/);
  expect(refused({ ...job, bench: { ...job.bench, axialTravel: 231 } })).toEqual([]);
});

const chuck = (job: Job, more: Partial<Job['bench']['chuck']>): Job => ({
  ...job,
  bench: { ...job.bench, chuck: { ...job.bench.chuck, ...more } },
});

test('three jaws hold no square, but a round and a hexagon', () => {
  const three = chuck(good(), { jaws: 3 });
  expect(find(three, 'jaws').message).toBe('3 jaws do not seat on 4 flats');
  const round = { ...three.blank, section: 'round' as const, sides: 0 };
  expect(codes({ ...three, blank: round })).not.toContain('jaws');
  const hexagon = { ...three.blank, section: 'polygon' as const, sides: 6 };
  expect(codes({ ...three, blank: hexagon })).not.toContain('jaws');
  expect(codes({ ...good(), blank: hexagon })).toContain('jaws');
  expect(codes({ ...good(), blank: { ...hexagon, sides: 8 } })).not.toContain('jaws');
});

test('jaws that move together hold no rectangle, independent ones do', () => {
  const job = good();
  const blank = { ...job.blank, section: 'rectangle' as const, width: 43, height: 50 };
  expect(find({ ...job, blank }, 'jaws').message).toMatch(/43 x 50 mm/);
  expect(codes(chuck({ ...job, blank }, { selfCentring: false }))).not.toContain('jaws');
});

test('the jaws’ range is told', () => {
  expect(find(chuck(good(), { gripMax: 40 }), 'jaws').message).toMatch(
    /43 mm where the jaws take it, they take 3 to 40/,
  );
  expect(find(chuck(good(), { gripMin: 45 }), 'jaws').message).toMatch(/43 mm where/);
  expect(find(chuck(good(), { jawDepth: 15 }), 'jaws').severity).toBe('warn');
});

test('a stub too thin for the torque is told with the radius it needs', () => {
  const job = good();
  const stubs = { ...job.stubs, chuck: { ...job.stubs.chuck, radius: 1 } };
  expect(find({ ...job, stubs }, 'stub-too-thin').message).toMatch(/radius of 1 mm; 0\.18 Nm/);
  expect(codes(job)).not.toContain('stub-too-thin');
});

test('a weak rotary is told', () => {
  const job = good();
  const weak = (holdingTorque: number) => ({
    ...job,
    bench: { ...job.bench, rotary: { ...job.bench.rotary, holdingTorque } },
  });
  expect(find(weak(0.25), 'rotary-torque').severity).toBe('warn');
  expect(find(weak(0.1), 'rotary-torque').severity).toBe('refuse');
});

test('coarse steps of the rotary are told: 0.18° at a radius of 20 is 0.063 mm', () => {
  const job = good();
  const rotary = { ...job.bench.rotary, microsteps: 10, reduction: 1 };
  expect(find({ ...job, bench: { ...job.bench, rotary } }, 'rotary-precision').message).toMatch(/0\.063 mm/);
});

test('a bit at the form’s end must not touch chuck or centre', () => {
  const job = good();
  const close = { ...job, keepOut: [{ from: -60, to: -4, radius: 50, what: 'chuck' }] };
  expect(find(close, 'travel').message).toMatch(/stands 4 mm from the chuck/);
  expect(find(close, 'travel').severity).toBe('refuse');
  // A centre thinner than the form's end is no matter.
  const nose = { ...job, keepOut: [{ from: 202, to: 260, radius: 8, what: 'centre' }] };
  expect(codes(nose)).not.toContain('travel');
  expect(codes({ ...nose, keepOut: [{ ...nose.keepOut[0]!, radius: 25 }] })).toContain('travel');
  // Its holder comes low only beside something tall.
  const tall = { ...job, keepOut: [{ from: -60, to: -10, radius: 62, what: 'chuck' }] };
  expect(find(tall, 'travel').message).toMatch(/its holder/);
});

test('a deep cove between kept squares needs a long bit', () => {
  const field = { ...step(200, 50, 40, 4), kept: [{ from: 0, to: 50 }] };
  const job = jobFor(field, { side: 80, bench: 'long' });
  const p = checkFit(job).filter((q) => q.code === 'bit-too-short' && q.severity === 'refuse');
  // Corners at 56.6 − 4 = 52.6 deep beside a stick-out of 40.
  expect(p[0]!.message).toMatch(/52\.6 mm below the corner that stays beside the holder/);
  expect(p[0]!.allowed).toMatch(/54\.1 mm/);
});

test('a thick shank above a thin bit needs reach', () => {
  const job = jobFor(step(200, 100, 20, 8));
  const bit = { ...row(bits, 'flat-eighth'), shank: 6, reach: 10 };
  const tools = { ...job.tools, finishing: { ...job.tools.finishing, bit } };
  expect(find({ ...job, tools }, 'bit-too-short').message).toMatch(
    /12 mm below wood beside it.*free of its shank for 10 mm/,
  );
});

test('spindle speed and power out of range are told', () => {
  const job = good();
  const limits = { ...job.tools.roughing.limits, rpm: 30_000 };
  const tools = { ...job.tools, roughing: { ...job.tools.roughing, limits } };
  expect(find({ ...job, tools }, 'spindle-speed').message).toMatch(/30000 rpm, the spindle turns 6000 to 24000/);
  expect(find({ ...job, bench: { ...job.bench, spindlePower: 5 } }, 'spindle-power').message).toMatch(
    /7 W are asked of a spindle with 5 W/,
  );
});

test('where the rotary sets the pace is noted', () => {
  const job = jobFor(step(200, 100, 20, 4));
  // 3020 mm/min over 60 turns a minute: 8.0 mm.
  expect(find(job, 'rotary-speed').message).toMatch(/below a radius of 8 mm the rotary's 60 turns/);
});

test('a slender part that bends under the bit is told by how much', () => {
  const job = jobFor(cylinder(500, 5), { bench: 'long' });
  const p = find(job, 'bends');
  expect(Number(/gives ([\d.]+) mm/.exec(p.message)![1])).toBeGreaterThan(0.3);
});

const necked = (r: number) => jobFor(fieldFrom({ length: 300, radius: (x) => (Math.abs(x - 150) < 20 ? r : 20) }));

test('a neck that only roughing endangers is warned of, one that finishing breaks is refused', () => {
  const severities = (r: number) =>
    checkFit(necked(r))
      .filter((p) => p.code === 'neck-shears' || (p.code === 'slender' && p.severity !== 'note'))
      .map((p) => p.severity);
  expect(severities(0.8)).toEqual(['refuse']);
  expect(severities(2.2)).toEqual(['warn']);
  expect(severities(8)).toEqual([]);
});

test('cautions of the material come along as notes', () => {
  const brass = jobFor(cylinder(100, 10), { material: 'brass' });
  expect(find(brass, 'hazard').severity).toBe('note');
  const plain = { ...good(), material: { ...row(materials, 'sugar-maple'), caution: '' } };
  expect(codes(plain)).toEqual([]);
});
