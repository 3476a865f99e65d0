import { describe, expect, test } from 'vitest';
import { fieldOf } from '../../src/profiles/build-field.ts';
import type { Carving } from '../../src/profiles/carvings/registry.ts';
import type { Design } from '../../src/profiles/design.ts';
import type { Element } from '../../src/profiles/elements/registry.ts';
import { squareSection } from './probe.ts';

const shaft: Element[] = [
  { element: 'cylinder', length: 40, start: 40 },
  { element: 'taper', length: 60, end: 12 },
];
const carved = (...carvings: Carving[]): Design => ({ form: shaft, carvings });
const flutes = { carving: 'flutes', count: 8, depth: 2, land: 0.5 } as const;

/** What is wrong, where it is said, what the sentence must tell. */
const rows: [string, Design, string, string, RegExp][] = [
  ['elements longer than the form', { length: 90, form: shaft }, 'length', 'elements-too-long', /100 mm, 10 mm more/],
  [
    'elements shorter than the form',
    { length: 120, form: shaft },
    'length',
    'elements-too-short',
    /100 mm, 20 mm less/,
  ],
  [
    'nothing left to share',
    { length: 100, form: [...shaft, { element: 'bead', share: 1 }] },
    'length',
    'elements-too-long',
    /leave nothing/,
  ],
  [
    'a share without an overall length',
    { form: [...shaft, { element: 'bead', share: 1 }] },
    'length',
    'wrong-shape',
    /overall length/,
  ],
  ['neither length nor share', { form: [{ element: 'bead' }] }, 'form[0].length', 'wrong-shape', /neither/],
  [
    'both length and share',
    { length: 10, form: [{ element: 'bead', length: 5, share: 1 }] },
    'form[0].share',
    'wrong-shape',
    /not both/,
  ],
  [
    'a cove that cuts through',
    { form: [{ element: 'cove', length: 60, start: 40 }] },
    'form[0]',
    'form-too-thin',
    /-20 mm thick at x = 30/,
  ],
  [
    'a chain of shapes that runs inward to nothing',
    { form: [{ element: 'ovolo', length: 25, start: 40, goes: 'in' }] },
    'form[0]',
    'form-too-thin',
    /-10 mm/,
  ],
  [
    'spline points out of order',
    {
      form: [
        {
          element: 'spline',
          length: 50,
          points: [
            { at: 0.6, diameter: 20 },
            { at: 0.4, diameter: 20 },
          ],
        },
      ],
    },
    'form[0]',
    'element-shape',
    /point 1/,
  ],
  [
    'readings out of order',
    {
      form: [
        {
          element: 'measured',
          readings: [
            { at: 5, diameter: 20 },
            { at: 0, diameter: 20 },
          ],
        },
      ],
    },
    'form[0]',
    'element-shape',
    /reading 1/,
  ],
  [
    'shoulders longer than their pommel',
    { form: [{ element: 'pommel', length: 20, shoulder: 'ogee', run: 12 }] },
    'form[0]',
    'element-shape',
    /24 mm of its 20/,
  ],
  [
    'a shoulder that starts outside the flats',
    {
      form: [
        { element: 'cylinder', length: 5, start: 60 },
        { element: 'pommel', length: 20, shoulder: 'ogee', run: 5 },
      ],
    },
    'form[1]',
    'element-shape',
    /thicker than the blank/,
  ],
  [
    'a carving that starts beyond its end',
    carved({ ...flutes, from: 50, to: 20 }),
    'carvings[0].to',
    'carving-range',
    /is nothing/,
  ],
  ['a carving beyond the form', carved({ ...flutes, to: 130 }), 'carvings[0].to', 'carving-range', /130 mm, beyond/],
  [
    'a carving over elements that are not there',
    carved({ ...flutes, over: [1, 2] }),
    'carvings[0].over',
    'carving-range',
    /no elements 1 to 2/,
  ],
  [
    'a carving over elements and from–to',
    carved({ ...flutes, over: [0, 1], from: 5 }),
    'carvings[0].over',
    'carving-range',
    /not both/,
  ],
  [
    'an inset that leaves nothing',
    carved({ ...flutes, over: [0, 0], inset: 30 }),
    'carvings[0].inset',
    'carving-range',
    /nothing/,
  ],
  [
    'a flute deeper than the thin end',
    carved({ carving: 'lobes', starts: 2, depth: 7, turns: 1, ends: 'square' }),
    'carvings[0].depth',
    'carving-too-deep',
    /1\.2[5-6]\d* mm deeper than the taper form\[1\]/,
  ],
  [
    'the second of two that is too deep together',
    carved(
      { ...flutes, depth: 1.5, over: [1, 1], ends: 'square' },
      { carving: 'groove', starts: 1, width: 9, depth: 4.5, turns: 5, over: [1, 1], ends: 'square' },
    ),
    'carvings[1].depth',
    'carving-too-deep',
    /groove cut .* taper form\[1\]/,
  ],
  [
    'flutes too shallow for their width',
    carved({ ...flutes, count: 6, depth: 0.5 }),
    'carvings[0].depth',
    'carving-too-deep',
    /bulge/,
  ],
  [
    'flutes deeper than half-round',
    carved({ ...flutes, count: 24, depth: 5, over: [0, 0] }),
    'carvings[0].depth',
    'carving-too-deep',
    /half-round before/,
  ],
  [
    'reeds deeper than half-round',
    carved({ carving: 'reeds', count: 24, depth: 6, over: [0, 0] }),
    'carvings[0].depth',
    'carving-too-deep',
    /half-round before/,
  ],
  [
    'facets that cut nothing',
    carved({ carving: 'facets', flats: 6, across: 50 }),
    'carvings[0].across',
    'carving-too-deep',
    /cut nothing/,
  ],
  [
    'facets with two sizes',
    carved({ carving: 'facets', flats: 6, across: 30, depth: 2 }),
    'carvings[0].across',
    'carving-too-deep',
    /not both/,
  ],
  [
    'a groove deeper than half its width',
    carved({ carving: 'groove', starts: 1, width: 4, depth: 3, turns: 2 }),
    'carvings[0].depth',
    'carving-too-deep',
    /half-round at 2 mm/,
  ],
  [
    'a spiral with turns and pitch',
    carved({ carving: 'groove', starts: 1, width: 4, depth: 1, turns: 2, pitch: 20 }),
    'carvings[0].pitch',
    'carving-too-deep',
    /not both/,
  ],
  [
    'a hole past the axis',
    carved({ carving: 'holes', count: 2, diameter: 5, depth: 25, over: [0, 0] }),
    'carvings[0].depth',
    'carving-too-deep',
    /5\.00 mm past the axis/,
  ],
  [
    'a hole that breaks out of the end',
    carved({ carving: 'holes', count: 2, rows: 2, diameter: 5, depth: 5 }),
    'carvings[0].diameter',
    'carving-too-deep',
    /breaks out/,
  ],
  [
    'flutes on a pommel',
    {
      form: [
        { element: 'pommel', length: 30 },
        { element: 'cylinder', length: 40, start: 40 },
      ],
      carvings: [flutes],
    },
    'carvings[0]',
    'carving-range',
    /pommel form\[0\]/,
  ],
  ['a NaN', { form: [{ element: 'bead', length: Number.NaN }] }, 'form[0].length', 'out-of-limits', /NaN/],
  ['an infinite depth', carved({ ...flutes, depth: Infinity }), 'carvings[0].depth', 'out-of-limits', /Infinity/],
];

describe('what does not fit is said in one line with its path:', () => {
  test.each(rows)('%s', (_name, design, path, code, message) => {
    const { field, problems } = fieldOf(design, squareSection(50));
    expect(field).toBeUndefined();
    expect(problems).toHaveLength(1);
    expect(problems[0]).toMatchObject({ path, code, severity: 'refuse' });
    expect(problems[0]!.message).toMatch(message);
    expect(problems[0]!.message).not.toMatch(/\n|\.$/);
  });
});

test('a pommel without a blank says so', () => {
  expect(fieldOf({ form: [{ element: 'pommel', length: 30 }] }).problems[0]).toMatchObject({
    path: 'form[0]',
    message: expect.stringMatching(/no blank/),
  });
});

test('a carving is refused at the depth that would leave less than the smallest core, and taken just before', () => {
  const lobes = (depth: number) =>
    fieldOf({
      form: [{ element: 'cylinder', length: 50, start: 20 }],
      carvings: [{ carving: 'lobes', starts: 2, depth, turns: 1 }],
    }).field;
  expect(lobes(9.74)).toBeDefined();
  expect(lobes(9.76)).toBeUndefined();
});

test('holes may lie on a pommel', () => {
  const form: Element[] = [
    { element: 'pommel', length: 30 },
    { element: 'cylinder', length: 40, start: 40 },
  ];
  const { field, problems } = fieldOf(
    { form, carvings: [{ carving: 'holes', count: 2, diameter: 8, depth: 10, over: [0, 0] }] },
    squareSection(50),
  );
  expect(problems).toEqual([]);
  expect(field!.holes.map((h) => h.x)).toEqual([15, 15]);
});

test('a pommel keeps its blank only between its shoulders: those are still to be cut', () => {
  const section = { radius: () => 20, inner: 20, outer: 28.28, symmetry: 4, corners: [] };
  const { field } = fieldOf(
    {
      form: [
        { element: 'pommel', length: 80, shoulder: 'ogee', run: 12 },
        { element: 'cylinder', length: 20 },
      ],
    },
    section,
  );
  expect(field?.kept).toEqual([{ from: 12, to: 68 }]);
});
