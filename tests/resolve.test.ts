import { describe, expect, test } from 'vitest';
import { benches, bits } from '../shared/catalog.ts';
import { problemLine } from '../shared/problems.ts';
import { CENTRING, CLEARANCE } from '../shared/tolerances.ts';
import { checkFit } from '../src/cam/fit.ts';
import type { Job } from '../src/cam/job.ts';
import { checkPart, type Part } from '../src/part.ts';
import { hollowRest } from '../src/resolve/hollow.ts';
import { resolvePart } from '../src/resolve.ts';

const spindle = [
  { element: 'cylinder', length: 60, start: 30 },
  { element: 'bead', length: 10, start: 28 },
  { element: 'cylinder', length: 60, start: 20 },
];
const part = (raw: Record<string, unknown>): Part => {
  const result = checkPart({ form: spindle, ...raw });
  if ('problems' in result) throw new Error(result.problems.map(problemLine).join('; '));
  return result.part;
};
const job = (raw: Record<string, unknown> = {}): Job => {
  const { job, problems } = resolvePart(part(raw));
  if (!job) throw new Error(problems.map(problemLine).join('; '));
  return job;
};
const lines = (raw: Record<string, unknown>): string[] => {
  const { job, problems } = resolvePart(part(raw));
  expect(job).toBeUndefined();
  expect(problems.some((p) => p.severity === 'refuse')).toBe(true);
  return problems.map(problemLine);
};

describe('a job', () => {
  test('of a form alone has stock around it, and fits its bench', () => {
    const j = job();
    // Bead: crown 14 + 5 mm; a millimetre of sawn face all round, whole millimetres.
    expect(j.field.maxRadius).toBeCloseTo(19, 6);
    expect(j.blank).toMatchObject({ section: 'square', width: 40, height: 40, sides: 4 });
    expect(checkFit(j).filter((p) => p.severity === 'refuse')).toEqual([]);
  });

  test('places the blank: jaws, stub, form, stub', () => {
    const j = job();
    expect(j.blank.from).toBe(-(j.holding.chuckStub + j.holding.chuckGrip));
    expect(j.blank.to).toBe(j.field.length + j.holding.tailStub);
    const chuck = j.keepOut.find((k) => k.what === 'chuck')!;
    expect(chuck.to).toBe(-j.holding.chuckStub);
    expect(chuck.to - chuck.from).toBe(j.bench.chuck.length);
    for (const k of j.keepOut.filter((k) => k.what.startsWith('tailstock')))
      expect(k.from).toBeGreaterThanOrEqual(j.blank.to);
  });

  test('turns clear of the corners with room for a blank that is a little off its centre', () => {
    expect(job({ blank: { width: 50 } }).safeRadius).toBeCloseTo(25 * Math.SQRT2 + CENTRING + CLEARANCE, 9);
    expect(job({ blank: { section: 'round', width: 50 } }).safeRadius).toBeCloseTo(25 + CENTRING + CLEARANCE, 9);
  });

  test.each(benches.map((b) => b.id))(
    'keeps every bit and holder clear of chuck and tailstock at the ends (%s)',
    (bench) => {
      const j = job({ bench, blank: { section: 'round', width: 42 } });
      for (const { bit } of [j.tools.roughing, j.tools.finishing])
        for (const k of j.keepOut) {
          // The outermost place of the tip: its wall at the turned length's end, its tip at the stub.
          const end = k.to <= 0 ? j.stubs.chuck.from + bit.diameter / 2 : j.stubs.tail.to - bit.diameter / 2;
          const gap = k.to <= 0 ? end - k.to : k.from - end;
          expect(gap).toBeGreaterThanOrEqual(bit.diameter / 2 + CLEARANCE);
          if (j.stubs.chuck.radius + bit.stickOut < k.radius)
            expect(gap).toBeGreaterThanOrEqual(bit.holder / 2 + CLEARANCE);
        }
    },
  );

  test.each([
    ['stout', {}],
    [
      'large and soft',
      {
        form: [{ element: 'cylinder', length: 60, start: 120 }],
        blank: { width: 130, material: 'basswood' },
        bench: 'long',
        bits: { roughing: 'flat-half' },
      },
    ],
  ])('leaves stubs that carry the bit’s torque with fourfold safety (%s)', (_what, raw) => {
    const j = job(raw);
    const t = j.tools.roughing;
    const force = j.material.cuttingForce * t.limits.stepDown * (t.limits.feed / (t.limits.rpm * t.bit.teeth));
    const torque = force * (j.blank.width / 2) * Math.SQRT2;
    // Shear of a round bar, τ = 16T/(πd³) (any handbook of mechanics of materials).
    const needed = Math.cbrt((16 * torque * 4) / (Math.PI * j.material.shearStrength));
    expect(2 * j.stubs.chuck.radius).toBeGreaterThan(needed);
    // The thinnest stub that anyone turns is 8 mm thick: in the large one the torque decides.
    if (_what !== 'stout') expect(needed).toBeGreaterThan(8);
    expect(j.stubs.tail.radius).toBe(j.stubs.chuck.radius);
  });

  test('a tube keeps a wall round its bore beside the form', () => {
    const j = job({ form: [{ element: 'cylinder', length: 60, start: 40 }], blank: { width: 44, bore: 24 } });
    expect(j.blank.bore).toBe(24);
    expect(j.stubs.chuck.radius).toBeGreaterThanOrEqual(12 + 3);
    expect(job().stubs.chuck.radius).toBeLessThan(12);
  });

  test('beside a pommel nothing is turned', () => {
    const j = job({
      form: [
        { element: 'pommel', length: 60, shoulders: 'tail' },
        { element: 'cylinder', length: 60, start: 30 },
      ],
      blank: { width: 40 },
    });
    expect(j.stubs.chuck.from).toBe(j.stubs.chuck.to);
    expect(j.stubs.tail.to).toBeGreaterThan(j.stubs.tail.from);
  });

  test('spare length of the stock goes into the jaws first, then beyond the tail', () => {
    const bare = job();
    const least = bare.blank.to - bare.blank.from;
    const long = job({ blank: { width: 40, length: least + 30 } });
    expect(long.holding.chuckGrip).toBe(bare.holding.chuckGrip);
    expect(long.holding.tailStub).toBe(bare.holding.tailStub + 30);
    expect(long.blank.to - long.blank.from).toBeCloseTo(least + 30, 9);
    const short = job({ blank: { width: 40, length: least - 10 } });
    expect(short.holding.chuckGrip).toBe(bare.holding.chuckGrip - 10);
  });

  test('takes a finer finishing bit where a cove asks for it, and the size of the work for the rest', () => {
    const finishing = (form: unknown[]) => job({ form, bench: 'long' }).tools.finishing.bit.id;
    const wide = { element: 'cylinder', length: 60, start: 72 };
    expect(finishing([wide])).toBe('ball-10');
    expect(finishing([wide, { element: 'cove', length: 7, depth: 3.5 }, wide])).toBe('ball-6');
    expect(finishing([wide, { element: 'cove', length: 5, depth: 2.5 }, wide])).toBe('ball-eighth');
    expect(job({ form: [{ element: 'cylinder', length: 30, start: 12 }] }).tools.roughing.bit.id).toBe('flat-eighth');
  });

  test('a named bit wins, and an empty list means none', () => {
    const j = job({
      bits: { roughing: 'flat-half', detail: [] },
      carvings: [{ carving: 'flutes', count: 24, depth: 0.6, to: 50 }],
    });
    expect(j.tools.roughing.bit.id).toBe('flat-half');
    expect(j.tools.detail).toEqual([]);
  });

  test('narrow flutes get a bit that enters them', () => {
    const j = job({ carvings: [{ carving: 'flutes', count: 24, depth: 1, to: 50 }] });
    expect(j.tools.detail.length).toBeGreaterThan(0);
    const finest = Math.min(...j.tools.detail.map((t) => t.bit.tipRadius));
    expect(finest).toBeLessThan(j.tools.finishing.bit.tipRadius);
  });

  test('what a ball leaves in a half-round cove is nothing if it fits, and grows as it does not', () => {
    const field = job({
      form: [
        { element: 'cylinder', length: 20, start: 40 },
        { element: 'cove', length: 10, depth: 5 },
      ],
    }).field;
    const ball = (diameter: number) => ({ ...bits.find((b) => b.id === 'ball-6')!, diameter, tipRadius: diameter / 2 });
    expect(hollowRest(field)(ball(6))).toBeLessThan(0.05);
    // A ball that rests on both lips (R > ρ): its bottom stands R − √(R² − ρ²) below the lips, the cove's ρ below.
    expect(hollowRest(field)(ball(14))).toBeCloseTo(5 - (7 - Math.sqrt(49 - 25)), 1);
  });
});

describe('what does not go together is told with its path', () => {
  test.each([
    ['an unknown bench', { bench: 'midle' }, /^bench: no bench is called "midle" \(did you mean "middle"\?\)/],
    ['an unknown material', { blank: { material: 'unobtainium' } }, /^blank\.material: no material is called/],
    [
      'an unknown bit',
      { bits: { detail: ['vee-60', 'vee-61'] } },
      /^bits\.detail\[1\]: no bit is called "vee-61" \(did you mean "vee-60"\?\)/,
    ],
    ['an unknown control', { control: 'five-axis' }, /^control: no control is called/],
    [
      'a blank too small for the form',
      { blank: { width: 36 } },
      /^form\[1\]: the bead stands 1\.00 mm out of the blank \(blank\.width 38 mm or more/,
    ],
    [
      'a pommel without a width',
      { form: [{ element: 'pommel', length: 60 }] },
      /^blank\.width: is missing: form\[0\] keeps the blank's section/,
    ],
    [
      'stock too short',
      { blank: { width: 40, length: 140 } },
      /^blank\.length: the stock is \d+ mm too short \(at least \d+ mm: chuck grip/,
    ],
    [
      'a stub too short',
      { holding: { chuckStub: 3 } },
      /^holding\.chuckStub: 3 mm beside the form is too short \(at least \d+ mm/,
    ],
    ['a grip too short', { holding: { chuckGrip: 2 } }, /^holding\.chuckGrip: 2 mm in the jaws does not hold/],
    [
      'lengths that do not add up',
      { blank: { width: 40, length: 300 }, holding: { chuckGrip: 20, tailStub: 20 } },
      /^blank\.length: 300 mm is not the sum of its parts/,
    ],
    [
      'elements too long',
      { length: 100 },
      /^length: the elements add up to 130 mm, 30 mm more than the overall length/,
    ],
  ])('%s', (_what, raw, line) => {
    expect(lines(raw).join('\n')).toMatch(line);
  });

  test('a form exactly as thick as its blank is held, a hair more is not', () => {
    const at = (start: number) =>
      resolvePart(part({ form: [{ element: 'cylinder', length: 60, start }], blank: { width: 30 } })).job;
    expect(at(30)).toBeDefined();
    expect(at(30.01)).toBeUndefined();
  });

  test('a form thicker than the flats is held where a carving keeps it inside the corners', () => {
    const square = { carving: 'facets', flats: 4 };
    const form = [{ element: 'cylinder', length: 60, start: 40 }];
    expect(lines({ form, blank: { width: 30 } })[0]).toMatch(/stands 5\.00 mm out/);
    const { problems } = resolvePart(
      part({ form, carvings: [{ ...square, across: 28, ends: 'square' }], blank: { width: 30 } }),
    );
    expect(problems.filter((p) => p.code === 'blank-too-small')).toEqual([]);
  });
});
