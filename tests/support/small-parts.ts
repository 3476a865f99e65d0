/** Parts so small that a page plans and proves them in a moment. */

/** One cylinder out of a square stick; finished coarsely. */
export const peg = {
  cavetto: 1,
  name: 'Dowel peg',
  form: [{ element: 'cylinder', length: 16, start: 16 }],
  blank: { section: 'square', width: 20 },
  plan: { scallop: 0.1 },
};

/** Three elements, so that something stands before and behind. */
export const toggle = {
  cavetto: 1,
  name: 'Sail toggle',
  form: [
    { element: 'cylinder', length: 8, start: 14 },
    { element: 'taper', length: 10, start: 14, end: 16 },
    { element: 'cylinder', length: 8, start: 16 },
  ],
  blank: { section: 'square', width: 20 },
  plan: { scallop: 0.1 },
};

/** Fluted and twisted, its length one number: what a line's knobs are tried on. Small enough that a resolve takes a moment. */
export const twistedPeg = {
  name: 'Peg',
  length: 40,
  form: [{ element: 'cylinder', share: 1, start: 16 }],
  carvings: [
    { carving: 'flutes', over: [0, 0], inset: 4, count: 8, depth: 1 },
    { carving: 'twist', over: [0, 0], turns: 0.1, hand: 'right' },
  ],
  blank: { section: 'square', width: 20, material: 'sugar-maple' },
};
