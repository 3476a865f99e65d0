/** Each thing that the proof can find, provoked by a short program, with its line. */
import { describe, expect, test } from 'vitest';
import type { FindingCode } from '../../shared/problems.ts';
import { TURN } from '../../shared/units.ts';
import { prove } from '../../src/cam/proof/prove.ts';
import { type ProgramText, type Proof, type ProofJob, Stopped } from '../../src/cam/proof/verdict.ts';
import { fieldFrom, step } from '../support/fields.ts';
import {
  bitOf,
  controlOf,
  cylinderMoves,
  cylinderProgram,
  FROM,
  LENGTH,
  proofJob,
  RADIUS,
  SAFE,
  TO,
  windLayers,
} from '../support/proof-job.ts';
import { asProgram, HandMoves, lineWith, type TextOptions, textOf } from '../support/rs274-text.ts';

const flat = bitOf('flat-6');
const row = (p: Proof, code: FindingCode) => p.findings.find((f) => f.code === code);
const program = (moves: HandMoves, o: Partial<TextOptions> = {}, with_: Partial<ProgramText> = {}): ProgramText => {
  const options: TextOptions = { control: controlOf('four-axis-inverse-time'), bit: flat, ...o };
  return asProgram('peg.nc', textOf(moves.list, options), options.bit, with_);
};
/** Lifted and over the start, ready to cut. */
const ready = () => new HandMoves().rapid({ r: SAFE }).rapid({ x: 20, theta: 0 });
const alone = (
  moves: HandMoves,
  job: Partial<ProofJob> = {},
  o: Partial<TextOptions> = {},
  with_: Partial<ProgramText> = {},
) => {
  const p = program(moves, o, with_);
  return { text: p.text, proof: prove(proofJob({ programs: [p], ...job })) };
};
const good = cylinderProgram();
const edited = (change: (text: string) => string): { text: string; proof: Proof } => {
  const text = change(good.text);
  expect(text).not.toBe(good.text);
  return { text, proof: prove(proofJob({ programs: [{ ...good, text }] })) };
};

test('a peg from a square is proven, its tallies add up to the wood that is gone', () => {
  const p = prove(proofJob({ programs: [good] }));
  expect(p.findings).toEqual([]);
  expect(p.verdict).toBe('proven');
  expect(p.deepestGouge).toBeLessThan(0.001);
  expect(p.restP99).toBeLessThan(0.01);
  const removed = p.stages.reduce((s, t) => s + t.removed, 0);
  // Square 34 less a circle of radius 15, from −7 to 47.
  expect(removed / ((34 * 34 - Math.PI * RADIUS ** 2) * (LENGTH + 14))).toBeCloseTo(1, 2);
  expect(p.stages.map((s) => [s.stage, s.passes])).toEqual([
    ['unnamed', 0],
    ['corners', 4],
    ['roughing', 1],
    ['finishing', 1],
  ]);
  expect(p.stages.reduce((s, t) => s + t.time_s, 0)).toBeCloseTo(p.time_s, 6);
  expect(p.leftOver.rest.length).toBe(p.leftOver.xs.length * p.leftOver.thetas);
});

describe('gouges', () => {
  test('the last layer 0.1 mm too deep: the depth is right and the first cutting line named', () => {
    const p = prove(proofJob({ programs: [cylinderProgram({}, RADIUS - 0.1)] }));
    expect(p.deepestGouge).toBeCloseTo(0.1, 2);
    expect(row(p, 'gouge')!.line).toBeGreaterThan(lineWith(good.text, 'stage finishing'));
  });
  test('a cut 0.02 mm too deep is within the tolerance, and told as a number', () => {
    const p = prove(proofJob({ programs: [cylinderProgram({}, RADIUS - 0.02)] }));
    expect(p.verdict).toBe('proven');
    expect(p.deepestGouge).toBeCloseTo(0.02, 3);
  });
  test('a bit that slides along a wall does not gouge; moved 0.1 mm into it, it does, by 0.1 mm and not by the height of the wall', () => {
    // The part steps from 16.5 down to 12 at x = 20; a flat bit of radius 3 turns the low side.
    const at = (x: number) => {
      const moves = new HandMoves();
      moves.rapid({ r: SAFE }).rapid({ x: FROM, theta: 0 });
      windLayers(moves, 'corners', [22, 20, 18, 16.5], 3, 24.1);
      let last = 16.5;
      for (const r of [14.2, 12]) {
        const theta = Math.ceil(moves.place.theta / TURN) * TURN;
        moves
          .rapid({ x: TO, theta })
          .rapid({ r: last + 0.5 })
          .cut({ r: last }, 500);
        moves
          .turn(1, { r })
          .turn(1)
          .turn(Math.ceil((TO - x) / 2), { x })
          .turn(1)
          .rapid({ r: SAFE });
        last = r;
      }
      return prove(proofJob({ programs: [program(moves)] }, 34, step(LENGTH, 20, 16.5, 12)));
    };
    const clear = at(23);
    expect(clear.findings).toEqual([]);
    expect(clear.deepestGouge).toBeLessThan(0.002);
    const into = at(22.9);
    expect(row(into, 'gouge')).toBeDefined();
    expect(into.deepestGouge).toBeGreaterThan(0.07);
    expect(into.deepestGouge).toBeLessThan(0.11);
    expect(at(22.98).verdict).toBe('proven');
    const short = at(24);
    expect(row(short, 'rest-reachable')).toMatchObject({ severity: 'refuse' });
  }, 60_000);
  test('a blank smaller than the part', () => {
    const p = prove(proofJob({ programs: [good] }, 29));
    expect(row(p, 'gouge')!.message).toContain('blank');
  });
  test('the neck cut thinner than its stub', () => {
    const moves = cylinderMoves();
    moves.rapid({ x: LENGTH + 5, theta: Math.ceil(moves.place.theta / TURN) * TURN }).rapid({ r: 15.5 });
    for (let r = 15; r > 4.5; r -= 2.2) moves.turn(1, { r }, 800);
    moves.turn(1, { r: 4.5 }, 300).turn(1, {}, 300);
    const { proof } = alone(moves);
    expect(row(proof, 'neck-too-thin')).toMatchObject({ severity: 'refuse' });
    expect(row(proof, 'neck-too-thin')!.message).toContain('5.00');
  });
});

describe('what is left', () => {
  test('finishing forgotten: unfinished wood that the bit could reach', () => {
    const { proof } = edited((t) => `${t.slice(0, t.indexOf('(stage finishing'))}G0 Z55\nG94\nM5\nM2\n`);
    const f = row(proof, 'rest-reachable')!;
    expect(f.severity).toBe('refuse');
    expect(f.message).toMatch(/\(100\.00 %\)|\(99\.\d+ %\)/);
    expect(f.message).toContain('1.00 mm thick');
  });
  test('a hollow narrower than the bit is a note with its depth, not a refusal', () => {
    // A groove 3 mm wide and 2 mm deep all around; the flat of 6 mm cannot enter.
    const field = fieldFrom({
      length: LENGTH,
      breaks: [
        { x: 18.5, kind: 'shoulder' },
        { x: 21.5, kind: 'shoulder' },
      ],
      radius: (x, _t, side) => {
        const inside = side < 0 ? x > 18.5 && x <= 21.5 : side > 0 ? x >= 18.5 && x < 21.5 : x > 18.5 && x < 21.5;
        return inside ? 13 : 15;
      },
    });
    const p = prove(proofJob({ programs: [good] }, 34, field));
    expect(p.verdict).toBe('proven');
    expect(row(p, 'rest-unreachable')).toMatchObject({ severity: 'note' });
    const depth = Number(/up to ([\d.]+) mm/.exec(row(p, 'rest-unreachable')!.message)![1]);
    // The thickest wood lies in the middle, 1.5 mm from either wall, 2 mm above the ground.
    expect(depth).toBeGreaterThan(1.3);
    expect(depth).toBeLessThan(1.55);
    expect(Math.max(...p.leftOver.unreachable)).toBeCloseTo(depth, 2);
  });
});

describe('ways of the bit', () => {
  test('straight down into wood deeper than allowed, and not where it is allowed', () => {
    const down = (r: number) => alone(ready().rapid({ r: 17.5 }).cut({ r }, 300).rapid({ r: SAFE }));
    const deep = down(15.2);
    expect(row(deep.proof, 'plunge')).toMatchObject({ line: lineWith(deep.text, 'Z15.2') });
    expect(row(deep.proof, 'plunge')!.message).toContain('1.80 mm straight down');
    expect(row(down(16.1).proof, 'plunge')).toBeUndefined();
  });
  test('a ramp steeper than allowed into solid wood; a gentle one is fine', () => {
    const ramp = (length: number) =>
      alone(
        ready()
          .rapid({ x: 5 })
          .rapid({ r: 17.5 })
          .cut({ r: 17.05 }, 300)
          .cut({ x: 5 + length, r: 15.05 }, 300)
          .rapid({ r: SAFE }),
      );
    const steep = ramp(4);
    expect(row(steep.proof, 'plunge')).toMatchObject({ line: lineWith(steep.text, 'X9.0') });
    expect(row(steep.proof, 'plunge')!.message).toContain('26.6°');
    expect(row(ramp(40).proof, 'plunge')).toBeUndefined();
  });
  test('a slot deeper than the step-down is met head-on; the same depth shaved from the side is not', () => {
    const slot = alone(
      ready()
        .rapid({ x: FROM - 0.5 })
        .rapid({ r: 17.5 })
        .cut({ r: 17 }, 300)
        .turn(2, { r: 15 }, 500)
        .cut({ x: 30 })
        .cut({ x: 4 })
        .rapid({ r: SAFE }),
      {},
      {},
      { stepDown: 1 },
    );
    expect(row(slot.proof, 'step-down')).toMatchObject({ severity: 'refuse' });
    // 0.3 mm from the side of a wall that is 2 mm high: a ring beside a ring, the wall lies aside of the bit's way.
    const rings = ready().rapid({ x: 20, theta: 0 }).rapid({ r: 24.5 }).cut({ r: 24.1 }, 300);
    rings.turn(1, { r: 22.2 }).turn(1).turn(1, { r: 20.2 }).turn(1).turn(1, { r: 18.2 }).turn(1);
    rings.turn(1, { r: 17 }).turn(1);
    rings.turn(4, { x: 21.2 }, 800).turn(1).rapid({ r: SAFE });
    const side = alone(rings);
    expect(row(side.proof, 'step-down')).toBeUndefined();
  });
  test('a rapid whose axes may run in any order is refused where the straight line would be free', () => {
    // From over the face (17) in a straight line to a place beside the blank's end, far lower: the box between holds wood.
    const moves = new HandMoves()
      .rapid({ r: SAFE })
      .rapid({ x: 60, theta: 0 })
      .rapid({ r: 17.5 })
      .rapid({ x: 20, r: 30, theta: Math.PI / 4 });
    const { text, proof } = alone(moves);
    expect(row(proof, 'rapid-in-wood')).toMatchObject({ line: lineWith(text, 'X20.0', 'Z30') });
    const lifted = alone(
      new HandMoves()
        .rapid({ r: SAFE })
        .rapid({ x: 60, theta: 0 })
        .rapid({ r: 30 })
        .rapid({ x: 20, theta: Math.PI / 4 }),
    );
    expect(row(lifted.proof, 'rapid-in-wood')).toBeUndefined();
  });
  test('the start is not a lift alone, or too low', () => {
    const { text, proof } = edited((t) => t.replace('G0 Z55.00000\n', 'G0 X-4 Z55\n'));
    expect(row(proof, 'start-not-lifted')).toMatchObject({ line: lineWith(text, 'G0 X-4 Z55') });
    const low = edited((t) => t.replace('G0 Z55.00000\n', 'G0 Z49\n'));
    expect(row(low.proof, 'start-not-lifted')).toMatchObject({ line: lineWith(low.text, 'Z49') });
    expect(row(low.proof, 'start-not-lifted')!.message).toContain('50.00');
  });
  test('corners still standing when the bit goes deep elsewhere', () => {
    const moves = new HandMoves().rapid({ r: SAFE }).rapid({ x: FROM, theta: 0 });
    windLayers(moves, 'corners', [22, 20], 3, 24.1);
    // Deep at one end only, by rings.
    moves
      .rapid({ x: FROM, theta: Math.ceil(moves.place.theta / TURN) * TURN })
      .rapid({ r: 20.5 })
      .cut({ r: 20 }, 300);
    moves.turn(1, { r: 18 }).turn(1, { r: 16 }).turn(1, { r: 14.2 }).rapid({ r: SAFE });
    const { proof, text } = alone(moves);
    const f = row(proof, 'unfinished-corner')!;
    expect(f.severity).toBe('refuse');
    expect(text.split('\n')[f.line - 1]).toMatch(/Z14/);
    expect(row(prove(proofJob({ programs: [good] })), 'unfinished-corner')).toBeUndefined();
  });
});

describe('the whole tool', () => {
  test('the holder dips into wood when the bit is clamped short', () => {
    const short = { ...flat, stickOut: 8, fluteLength: 6, reach: 7 };
    const { proof } = alone(
      ready().rapid({ r: 17.5 }).cut({ r: 15 }, 300).rapid({ r: SAFE }),
      {},
      { bit: short },
      { plunge: 3 },
    );
    // 15 + 8 = 23 mm: over the face the corners at 24 are 17 mm aside, beyond the holder: no contact.
    expect(row(proof, 'holder-contact')).toBeUndefined();
    const turned = alone(
      ready()
        .rapid({ theta: Math.PI / 4 - 0.2 })
        .rapid({ r: 24.5 })
        .cut({ r: 15 }, 300)
        .rapid({ r: SAFE }),
      {},
      { bit: { ...short, stickOut: 7.5 } },
      { plunge: 30, stepDown: 30 },
    );
    expect(row(turned.proof, 'holder-contact')).toMatchObject({ line: lineWith(turned.text, 'G1 Z15.0') });
    expect(row(turned.proof, 'shank-contact')).toBeDefined();
  });
  test('a shank thicker than the bit dips into wood', () => {
    const thin = { ...bitOf('flat-eighth'), fluteLength: 4, reach: 5, shank: 8 };
    const { text, proof } = alone(
      ready().rapid({ r: 17.5 }).cut({ r: 11 }, 300).rapid({ r: SAFE }),
      {},
      { bit: thin },
      { plunge: 30, stepDown: 30 },
    );
    const f = row(proof, 'shank-contact')!;
    expect(f.line).toBe(lineWith(text, 'G1 Z11'));
    expect(proof.findings.some((g) => g.code === 'shank-contact' && g.message.includes('8.0 mm thick'))).toBe(true);
    expect(proof.findings.some((g) => g.code === 'shank-contact' && g.message.includes('flutes'))).toBe(true);
  });
  test('the tailstock', () => {
    const { text, proof } = alone(
      ready()
        .rapid({ x: LENGTH + 16 })
        .rapid({ r: 7 })
        .rapid({ r: SAFE }),
    );
    expect(row(proof, 'keep-out')).toMatchObject({ line: lineWith(text, 'Z7.0') });
    expect(row(proof, 'keep-out')!.message).toContain('tailstock');
  });
  test('the holder against the chuck, where the bit itself is clear', () => {
    // x = −5: 7 mm beside the chuck's face; the holder is 10 mm in radius, at 5 + 40 mm: below the chuck's 50 mm.
    const { text, proof } = alone(ready().rapid({ x: -5 }).rapid({ r: 17.1 }).cut({ r: 8 }, 300).rapid({ r: SAFE }));
    const f = proof.findings.find((g) => g.code === 'keep-out' && g.message.includes('holder'))!;
    expect(f.line).toBe(lineWith(text, 'G1 Z8.0'));
  });
  test('the bed', () => {
    const { text, proof } = alone(ready().rapid({ x: 120 }).rapid({ r: -81 }).rapid({ r: SAFE }));
    expect(row(proof, 'bed-contact')).toMatchObject({ line: lineWith(text, 'Z-81') });
  });
  test('travels: along the axis over all programs together, and up', () => {
    const first = program(ready().rapid({ x: -10 }));
    const second = { ...program(ready().rapid({ x: 655 })), file: 'second.nc' };
    const p = prove(proofJob({ programs: [first, second] }));
    expect(row(p, 'travel-limit')).toMatchObject({ file: 'second.nc', line: lineWith(second.text, 'X655') });
    const high = alone(ready().rapid({ r: 95 }));
    expect(row(high.proof, 'travel-limit')).toMatchObject({ line: lineWith(high.text, 'Z95') });
  });
});

describe('feeds, speeds, spindle', () => {
  test('each axis’ speed limit, with the line', () => {
    const { text, proof } = alone(
      ready().rapid({ r: 50 }).cut({ x: 30 }, 7000).cut({ r: 45 }, 3000).cut({ theta: 3 }, 30000),
    );
    const rows = proof.findings.filter((f) => f.code === 'speed-limit' && f.severity === 'refuse');
    expect(rows.map((f) => f.line).sort((a, b) => a - b)).toEqual([
      lineWith(text, 'G1 X30'),
      lineWith(text, 'G1 Z45'),
      lineWith(text, 'G1 A'),
    ]);
  });
  test('1 % above a limit is rounding, 3 % is not', () => {
    const at = (feed: number) => row(alone(ready().rapid({ r: 50 }).cut({ x: 30 }, feed)).proof, 'speed-limit');
    expect(at(6050)).toBeUndefined();
    expect(at(6180)).toBeDefined();
  });
  test('more lines a second than the control takes is a warning', () => {
    const { text, proof } = alone(ready().rapid({ r: 50 }).cut({ x: 20.05 }, 3000));
    expect(row(proof, 'speed-limit')).toMatchObject({ severity: 'warn', line: lineWith(text, 'X20.05') });
  });
  test('F out of the control’s range', () => {
    const { text, proof } = edited((t) => t.replace(/(G1 Z17\.00000 )F.*/, '$1F900000'));
    expect(row(proof, 'feed-range')).toMatchObject({ line: lineWith(text, 'F900000') });
  });
  test('F missing and F 0', () => {
    const { text, proof } = edited((t) => t.replace(/(G1 Z17\.00000) F.*/, '$1'));
    expect(row(proof, 'feed-missing')).toMatchObject({ line: text.split('\n').indexOf('G1 Z17.00000') + 1 });
    const nought = edited((t) => t.replace(/(G1 Z17\.00000) F.*/, '$1 F0'));
    expect(row(nought.proof, 'feed-missing')!.message).toContain('F 0');
  });
  test('cutting while the spindle stands, runs backwards or out of its range', () => {
    expect(row(edited((t) => t.replace('S16000 M3\n', 'S16000\n')).proof, 'spindle-off')!.line).toBeGreaterThan(5);
    expect(row(edited((t) => t.replace('M3', 'M4')).proof, 'spindle-off')!.message).toContain('backwards');
    expect(row(edited((t) => t.replace('S16000', 'S0')).proof, 'spindle-off')).toBeDefined();
    expect(row(edited((t) => t.replace('S16000', 'S30000')).proof, 'spindle-range')!.message).toContain('30000');
    expect(row(edited((t) => t.replace('S16000', 'S3000')).proof, 'spindle-range')).toBeDefined();
    const stopped = edited((t) => t.replace('(stage finishing', 'M5\n(stage finishing'));
    expect(row(stopped.proof, 'spindle-off')!.line).toBeGreaterThan(lineWith(stopped.text, 'stage finishing'));
  });
});

describe('the text', () => {
  test('a forbidden line is refused with its number even where it would do no harm', () => {
    const { text, proof } = edited((t) => t.replace('M5\n', 'G91\nM5\n'));
    expect(proof.verdict).toBe('refused');
    expect(row(proof, 'line-forbidden')).toMatchObject({ line: lineWith(text, 'G91') });
  });
  test('a program cut short', () => {
    const { proof } = edited((t) => t.slice(0, -3));
    expect(row(proof, 'line-forbidden')!.message).toContain('cut short');
  });
  test('an empty program', () => {
    const p = prove(proofJob({ programs: [{ ...good, text: 'G21\nM2\n' }] }));
    expect(p.verdict).toBe('refused');
  });
  test('the other unit is named, and what it would do is found as well', () => {
    const { proof } = edited((t) => t.replace('G21', 'G20'));
    expect(row(proof, 'units')).toMatchObject({ line: 2, severity: 'refuse' });
    expect(row(proof, 'travel-limit')).toBeDefined();
  });
  test('a bit named that is not declared; a tool number more', () => {
    expect(row(edited((t) => t.replace('bit flat-6', 'bit flat-8')).proof, 'wrong-bit')).toMatchObject({
      line: 1,
      severity: 'refuse',
    });
    const tools = edited((t) => t.replace('S16000', 'T1\nS16000').replace('(stage finishing', 'T2\n(stage finishing'));
    expect(row(tools.proof, 'wrong-bit')).toMatchObject({ line: lineWith(tools.text, 'T2') });
    expect(row(edited((t) => t.replace(/^\(bit.*\n/, '')).proof, 'wrong-bit')).toMatchObject({ severity: 'warn' });
  });
  test('comments change nothing but the names of stages', () => {
    const p = edited((t) => t.replace(/^\(stage (\w+), pass/gm, '(stage other, pass')).proof;
    expect(p.verdict).toBe('proven');
    expect(p.stages.map((s) => s.stage)).toEqual(['unnamed', 'other']);
  });
  test('the rotary turning back in the finishing spiral is a warning', () => {
    const moves = cylinderMoves();
    moves.comment('stage finishing, pass 2 of 2: back');
    moves.rapid({ r: 15.5 }).cut({ r: 15 }, 300).turn(1).turn(-1).rapid({ r: SAFE });
    const { proof } = alone(moves);
    expect(row(proof, 'rotary-reverses')).toMatchObject({ severity: 'warn' });
    expect(proof.verdict).toBe('proven');
    expect(row(prove(proofJob({ programs: [good] })), 'rotary-reverses')).toBeUndefined();
  });
  test('rotary words past what single precision holds: refused where a re-zero is possible', () => {
    const single = { ...controlOf('four-axis-inverse-time'), significandBits: 24 };
    const moves = cylinderMoves();
    moves.rapid({ theta: 140 * TURN });
    const far = alone(moves, { control: single });
    expect(row(far.proof, 'rotary-precision')).toMatchObject({
      severity: 'refuse',
      line: lineWith(far.text, 'A50400'),
    });
    // Neighbours at 32 768…65 536 lie 2⁻⁸ apart: 0.0039° is 0.0016 mm at the corner, told but borne where there is no other way.
    const single2 = { ...single, canRezero: false };
    expect(row(alone(moves, { control: single2 }).proof, 'rotary-precision')).toMatchObject({ severity: 'warn' });
    expect(row(alone(cylinderMoves()).proof, 'rotary-precision')).toBeUndefined();
  });
});

test('a callback can stop the proof', () => {
  expect(() => prove(proofJob({ programs: [good] }), () => false)).toThrow(Stopped);
});
test('the same job gives the same answer', () => {
  const job = proofJob({ programs: [cylinderProgram({}, RADIUS - 0.1)] });
  expect(prove(job)).toEqual(prove(job));
});
