import { expect, test } from 'vitest';
import { bits, materials } from '../../shared/catalog.ts';
import { problemLine } from '../../shared/problems.ts';
import { checkFit } from '../../src/cam/fit.ts';
import type { Job } from '../../src/cam/job.ts';
import { strengthOf } from '../../src/cam/strength.ts';
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
  const job = { ...good(), keepOut: [] };
  const p = find({ ...job, bench: { ...job.bench, roomAbove: 70 } }, 'room-above');
  // Corner 30.4 + 1.5 clearance + 40 stick-out.
  expect(p.message).toMatch(/71\.9 mm above the centre, the bench has 70 mm/);
  expect(p.allowed).toMatch(/38\.1 mm/);
  expect(refused({ ...job, bench: { ...job.bench, roomAbove: 72 } })).toEqual([]);
  // A chuck higher than the corners counts in their stead: 50 + 1.5 + 40.
  expect(find({ ...good(), bench: { ...job.bench, roomAbove: 90 } }, 'room-above').message).toMatch(
    /^the chuck stands 50 mm .* 91\.5 mm above the centre, the bench has 90 mm, 1\.5 mm too little/,
  );
});

test('the length between jaws and centre, and the travel with its run-off', () => {
  const job = good();
  // From the jaws at −10 to the end at 215.
  expect(find({ ...job, bench: { ...job.bench, betweenCentres: 220 } }, 'blank-too-long').message).toMatch(
    /225 mm stand/,
  );
  // An adapter takes its share of what the bench has.
  expect(find({ ...job, bench: { ...job.bench, betweenCentres: 240, adapter: 20 } }, 'blank-too-long').message).toMatch(
    /takes 220 mm beside its adapter of 20 mm: 5 mm too long/,
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

test('a tenon is held where its stock is not, if it suits the jaws and carries the torque', () => {
  const three = chuck(good(), { jaws: 3 });
  const with_ = (diameter: number): Job => ({ ...three, holding: { ...three.holding, tenon: { diameter } } });
  expect(refused(with_(25))).toEqual([]);
  const note = checkFit(with_(25)).find((p) => p.code === 'jaws')!;
  expect(note).toMatchObject({ severity: 'note', path: 'holding.tenon' });
  expect(note.message).toMatch(/tenon of 25 mm over 20 mm/);
  expect(find(with_(2.5), 'jaws').message).toMatch(/2\.5 mm thick, the jaws take 3 to 80 mm/);
  // 4 mm under 0.18 Nm: d = ∛(16T·4/πτ), τ two thirds of 16.1 N/mm² (sugar maple, Wood Handbook table 5-3a).
  const thin = find(with_(4), 'stub-too-thin');
  expect(thin.severity).toBe('refuse');
  const torque = 1000 * Number(/carry ([\d.]+) Nm/.exec(thin.message)![1]);
  expect(thin.measure!.bound).toBeCloseTo(Math.cbrt((16 * torque * 4) / (Math.PI * 16.1 * (2 / 3))), 0);
});

test('a tube is held from inside, whatever its outside is', () => {
  const three = chuck(good(), { jaws: 3 });
  const tube = (bore: number | undefined): Job => ({
    ...three,
    blank: { ...three.blank, ...(bore === undefined ? {} : { bore }) },
    holding: { ...three.holding, inside: true },
  });
  const refusal = (job: Job) => checkFit(job).find((p) => p.code === 'jaws' && p.severity === 'refuse')!;
  expect(refused(tube(30))).toEqual([]);
  expect(refusal(tube(20)).message).toMatch(/the bore is 20 mm, spread jaws take 28 to 80 mm/);
  expect(refusal(tube(undefined)).message).toMatch(/solid stock has no inside/);
  // It is offered where the bore suits.
  const outside = { ...tube(30), holding: three.holding };
  expect(refusal(outside).changes!.flatMap((c) => c.set.map((e) => e.path))).toContain('holding.inside');
});

test('a bore must leave a wall under the thinnest place', () => {
  const job = good();
  const bored = (bore: number): Job => ({ ...job, blank: { ...job.blank, bore } });
  expect(refused(bored(37))).toEqual([]);
  expect(find(bored(30), 'jaws')).toMatchObject({ severity: 'note', path: 'holding.tailstock' });
  expect(find(bored(38), 'blank-too-small').message).toMatch(/a wall of only 1 mm is left/);
  expect(find(bored(42), 'blank-too-small').message).toMatch(/it breaks through/);
});

test('stock off its centre by less than the wood round the form is noted, by more refused', () => {
  const job = good();
  // 43 mm square, 40 mm round: 1.5 mm on each flat.
  expect(find({ ...job, offCentre: 1 }, 'off-centre')).toMatchObject({
    severity: 'note',
    measure: { got: 1, bound: 1.5 },
  });
  const p = find({ ...job, offCentre: 2 }, 'off-centre');
  expect(p.severity).toBe('refuse');
  expect(p.message).toMatch(/on one side 0\.5 mm are missing/);
  expect(p.changes!.map((c) => c.set[0])).toEqual([
    { path: 'blank.offCentre', value: 1.5 },
    { path: 'blank.width', value: 44 },
  ]);
  expect(codes(job)).not.toContain('off-centre');
});

test('a bracket beside the form is told where the form is lower than it', () => {
  const job = good();
  const bracket = (from: number, to: number, radius: number): Job => ({
    ...job,
    keepOut: [...job.keepOut, { from, to, radius, what: 'steady bracket' }],
  });
  expect(find(bracket(80, 100, 25), 'travel').message).toMatch(
    /^the steady bracket stands up to 25 mm .* turned down to \d+/,
  );
  expect(codes(bracket(80, 100, 15))).not.toContain('travel');
  expect(codes(bracket(260, 300, 25))).not.toContain('travel');
});

test('a spindle’s mount that overhangs its holder must clear the chuck too', () => {
  const job = good();
  // Form 20 + stick-out 40 + holder 20: the mount hangs 80 mm above the centre; a chuck of 85 mm would be in its way.
  const tall = { ...job, keepOut: [{ from: -200, to: -15, radius: 85, what: 'chuck' }] };
  expect(checkFit(tall).some((p) => /mount/.test(p.message))).toBe(false);
  const over = { ...tall, bench: { ...job.bench, overhang: 40 } };
  expect(checkFit(over).find((p) => /mount/.test(p.message))!.message).toMatch(/80 mm\) stands 15 mm from the chuck/);
});

test('feeds that are asked for show what follows: thick chips, rubbing, a bent bit, flutes too short', () => {
  const job = good();
  const asked = (more: Partial<Job['tools']['roughing']['limits']>): string[] => {
    const limits = { ...job.tools.roughing.limits, ...more, asked: { feed: 1 } };
    const tools = { ...job.tools, roughing: { ...job.tools.roughing, limits } };
    return checkFit({ ...job, tools })
      .filter((p) => p.code === 'asked-feeds')
      .map((p) => p.message);
  };
  const { feed } = job.tools.roughing.limits;
  expect(asked({})).toEqual([]);
  expect(asked({ feed: 3 * feed }).join()).toMatch(/3\.0 times what Flat 6 mm is planned to take/);
  expect(asked({ feed: feed / 5 }).join()).toMatch(/the edge rubs/);
  expect(asked({ stepDown: 26 }).join()).toMatch(/deeper than the flutes of Flat 6 mm are long \(25 mm\)/);
  expect(asked({ stepDown: 60, feed: 2.5 * feed }).join()).toMatch(/bend Flat 6 mm by \d/);
});

test('teeth that strike near the part’s own tone are told, with speeds that keep away from it', () => {
  const job = jobFor(cylinder(300, 9));
  const { bit } = job.tools.finishing;
  const at = (rpm: number): Job => ({
    ...job,
    tools: { ...job.tools, finishing: { ...job.tools.finishing, limits: { ...job.tools.finishing.limits, rpm } } },
  });
  const { tone } = strengthOf(job);
  const near = find(at((tone * 60) / bit.teeth), 'hums');
  expect(near.measure).toMatchObject({ unit: 'Hz' });
  expect(near.measure!.got / near.measure!.bound).toBeCloseTo(1, 6);
  for (const c of near.changes!) {
    expect(c.set[0]!.path).toBe('feeds.finishing.rpm');
    expect(codes(at(c.set[0]!.value as number))).not.toContain('hums');
  }
  expect(codes(at((2 * tone * 60) / bit.teeth))).not.toContain('hums');
});

test('a hazardous material is refused until its dangers are said to be met, by its own name', () => {
  const pvc = jobFor(cylinder(100, 10), { material: 'pvc' });
  expect(find(pvc, 'hazard').severity).toBe('refuse');
  expect(find({ ...pvc, acknowledged: 'hdpe' }, 'hazard').severity).toBe('refuse');
  const met = checkFit({ ...pvc, acknowledged: 'pvc' }).filter((p) => p.code === 'hazard');
  expect(met.map((p) => p.severity)).toEqual(['note']);
});

test('a part that by its name protects people is asked about, one that says so carries the note', () => {
  const named = (name: string, guard?: boolean): Job => ({
    ...good(),
    name,
    ...(guard === undefined ? {} : { guard }),
  });
  for (const name of ['Stair baluster', 'Balusters, porch', 'Guard rail', 'Crutch handle', 'Walking stick'])
    expect(find(named(name, false), 'local-code').severity, name).toBe('warn');
  for (const name of ['Newel finial', 'Chess bishop', 'Oar-rack peg', 'Drawer knob'])
    expect(codes(named(name, false)), name).not.toContain('local-code');
  expect(find(named('Peg', true), 'local-code').severity).toBe('note');
});

test('a guard’s numbers: gap beside its thinnest place, and 50 lbf in its middle (IRC 2018 R312.1.3, table R301.5 note f)', () => {
  // Cherry, 25 mm, 800 mm: 28.998 N/mm² under 222.411 N between supports.
  const job = jobFor(cylinder(800, 12.5), { bench: 'long', material: 'black-cherry' });
  const p = find({ ...job, guard: true }, 'local-code');
  expect(p.measure!.bound).toBeCloseTo(101.6 + 25, 6);
  expect(p.message).toMatch(/up to 29\.0 N\/mm²/);
});
