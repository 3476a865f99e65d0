/** Pieces on one stick: what a piece looks like must not depend on where it lies or which way round. */
import { describe, expect, test } from 'vitest';
import { TURN } from '../../shared/units.ts';
import { composeStick } from '../../src/batch/stick.ts';
import { type Piece, pieceOf } from '../../src/batch/stick-piece.ts';
import { endForEnd } from '../../src/batch/stick-turn.ts';
import { checkPart, type Part } from '../../src/part.ts';
import { type Carving, carvingKinds, defaultCarving } from '../../src/profiles/carvings/registry.ts';
import { defaultElement, type Element, elementKinds } from '../../src/profiles/elements/registry.ts';
import type { Field } from '../../src/profiles/field.ts';
import { made, squareSection } from '../profiles/probe.ts';

const section = squareSection(50);
const blank = { section: 'square', width: 50, material: 'sugar-maple' };

function partOf(raw: Record<string, unknown>): Part {
  const result = checkPart({ blank, ...raw });
  if (!('part' in result)) throw new Error(JSON.stringify(result.problems));
  return result.part;
}
function piece(part: Part): Piece {
  const result = pieceOf(part, section);
  if (!('piece' in result)) throw new Error(JSON.stringify(result.problems));
  return result.piece;
}
const fieldOfPiece = (p: Piece): Field => made({ form: [...p.form], carvings: [...p.carvings] }, section);

/** Largest difference of two fields, one perhaps moved along the axis, or turned end for end. Shoulders are looked at from both sides. */
function apart(a: Field, b: Field, at: number, turned: boolean): number {
  let most = 0;
  const xs = Array.from({ length: 101 }, (_, i) => (a.length * (i + 0.37)) / 101.5);
  for (const x of xs)
    for (let j = 0; j < 90; j++) {
      const theta = ((j + 0.31) * TURN) / 90;
      const other = turned ? b.radius(at + a.length - x, -theta) : b.radius(at + x, theta);
      most = Math.max(most, Math.abs(a.radius(x, theta) - other));
    }
  return most;
}

const elements: Element[] = [
  ...elementKinds.map((k) => defaultElement(k.kind as Element['element'])),
  { element: 'scotia', length: 15, start: 40, end: 33, large: 'tail' },
  { element: 'scotia', length: 15, start: 30 },
  { element: 'entasis', length: 60, start: 25, end: 33 },
  { element: 'bead', length: 14, start: 26, end: 20, rise: 5 },
  { element: 'ogee', length: 12, goes: 'in', start: 40, projection: 6 },
  { element: 'pommel', length: 40, shoulder: 'round', shoulders: 'chuck' },
  { element: 'vase', length: 50, start: 22, end: 18 },
];

describe('an element', () => {
  test.each(elements.map((e, k) => ({ name: `${e.element} ${k}`, e })))(
    '$name looks the same written out, and backward when turned',
    ({ e }) => {
      const part = partOf({
        girth: 0.8,
        form: [{ element: 'cylinder', length: 10, start: 40 }, e, { element: 'fillet', length: 6, rise: -2 }],
      });
      const here = made({ form: part.form, girth: 0.8 }, section);
      const written = piece(part);
      expect(apart(here, fieldOfPiece(written), 0, false)).toBeLessThan(1e-9);
      expect(apart(here, fieldOfPiece(endForEnd(written)!), 0, true)).toBeLessThan(1e-9);
    },
  );
});

/** A carving of every kind between two that twist, on a form of its own length. */
const carvings: Carving[] = [
  ...carvingKinds.map((k) => defaultCarving(k.kind as Carving['carving'])),
  {
    carving: 'flutes',
    count: 7,
    depth: 3,
    section: 'vee',
    land: 0.5,
    ends: 'square',
    tailEnd: 'straight',
    turned: 11,
    turns: 0.3,
  },
  { carving: 'lobes', starts: 2, depth: 4, pitch: 70, hand: 'left', turned: 20 },
  { carving: 'groove', starts: 3, width: 4, depth: 1.5, turns: 1.37, hand: 'left', turned: -50 },
  { carving: 'facets', flats: 5, across: 24, turned: 7 },
];
const shaft: Element[] = [
  { element: 'taper', length: 60, start: 40, end: 34 },
  { element: 'cove', length: 20, depth: 3 },
  { element: 'cylinder', length: 30 },
];

describe('a carving', () => {
  test.each(carvings.map((c, k) => ({ name: `${c.carving} ${k}`, c })))(
    '$name keeps its hand and its place',
    ({ c }) => {
      const twist: Carving = { carving: 'twist', turns: 0.21, from: 30, to: 90, hand: 'left' };
      const part = partOf({ girth: 0.9, form: shaft, carvings: [{ ...c, over: [0, 2], inset: 9 }, twist] });
      const here = made({ form: part.form, carvings: part.carvings, girth: 0.9 }, section);
      const written = piece(part);
      expect(apart(here, fieldOfPiece(written), 0, false)).toBeLessThan(1e-8);
      const back = fieldOfPiece(endForEnd(written)!);
      expect(apart(here, back, 0, true)).toBeLessThan(1e-8);
      const holes = (f: Field, sign: number) =>
        f.holes
          .map(
            (h) =>
              `${(sign > 0 ? h.x : f.length - h.x).toFixed(6)} ${((((sign * h.theta) % TURN) + 2 * TURN + 1e-9) % TURN).toFixed(6)}`,
          )
          .sort();
      expect(holes(back, -1)).toEqual(holes(here, 1));
    },
  );

  test('staggered holes in an even number of rows come out where they were', () => {
    const part = partOf({
      form: shaft,
      carvings: [
        { carving: 'holes', count: 3, rows: 4, staggered: true, diameter: 3, depth: 5, from: 20, to: 80, turned: 10 },
      ],
    });
    const here = fieldOfPiece(piece(part)).holes;
    const back = fieldOfPiece(endForEnd(piece(part))!).holes;
    for (const h of here)
      expect(
        back.some((b) => Math.abs(b.x - (110 - h.x)) < 1e-9 && Math.abs(Math.sin((b.theta + h.theta) / 2)) < 1e-9),
        `${h.x} ${h.theta}`,
      ).toBe(true);
  });

  test('crossed grooves that end between two steps are not turned: no document could say it', () => {
    const part = partOf({
      form: shaft,
      carvings: [{ carving: 'crossed', starts: 5, width: 3, depth: 1, turns: 0.33 }],
    });
    expect(endForEnd(piece(part))).toBeUndefined();
  });
});

describe('a stick', () => {
  const wrung = partOf({
    name: 'Wrung peg',
    length: 90,
    form: [
      { element: 'cylinder', length: 10, start: 36 },
      { element: 'taper', share: 1, end: 28 },
      { element: 'ball', length: 18, end: 8 },
    ],
    carvings: [
      { carving: 'flutes', over: [1, 1], inset: 4, count: 6, depth: 2.5, land: 0.4, turned: 15 },
      { carving: 'twist', over: [1, 1], turns: 0.37, hand: 'left' },
    ],
  });
  const peg = partOf({
    name: 'Peg',
    girth: 1.2,
    form: [
      { element: 'cylinder', length: 30, start: 20 },
      { element: 'bead', length: 14 },
    ],
  });
  const stick = composeStick(
    [
      { name: 'wrung 1', part: wrung },
      { name: 'peg', part: peg },
      { name: 'wrung 2', part: wrung, turned: true },
      { name: 'wrung 3', part: wrung },
    ],
    { name: 'Stick of four' },
  );
  if (!stick.part) throw new Error(JSON.stringify(stick.problems));
  const { part, pieces, neck } = stick;

  test('has every piece whole in it, whatever twists before it', () => {
    const whole = made({ form: part.form, carvings: part.carvings }, section);
    const own = [wrung, peg, wrung, wrung].map((p) =>
      made({ form: p.form, carvings: p.carvings, girth: p.girth, length: p.length }, section),
    );
    pieces.forEach((p, k) => {
      expect(p.to - p.from).toBeCloseTo(own[k]!.length, 9);
      expect(apart(own[k]!, whole, p.from, p.turned), p.name).toBeLessThan(1e-8);
    });
    expect(whole.length).toBeCloseTo(pieces.at(-1)!.to, 9);
  });

  test('has a neck between neighbours that is wide enough for saw and bits and carries the torque', () => {
    const partings = part.form.filter((e) => e.element === 'parting');
    expect(partings).toHaveLength(3);
    pieces.slice(1).forEach((p, k) => {
      expect(p.from - pieces[k]!.to).toBeCloseTo(neck.width, 9);
    });
    expect(neck.diameter).toBeGreaterThanOrEqual(8);
  });

  test('says what is wrong instead of making half a stick', () => {
    expect(composeStick([], { name: 'none' }).part).toBeUndefined();
    const wide = partOf({ blank: { section: 'square' }, form: shaft });
    expect(composeStick([{ name: 'a', part: wide }], { name: 'x' }).problems[0]!.path).toBe('blank.width');
    const thick = partOf({ form: [{ element: 'cylinder', length: 30, start: 60 }] });
    expect(composeStick([{ name: 'thick', part: thick }], { name: 'x' }).problems[0]!.code).toBe('blank-too-small');
  });
});
