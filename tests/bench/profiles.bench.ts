/** How fast a field answers: samples a second in rings, alone, and bounds of short ranges. Median of five runs. */
import { TURN } from '../../shared/units.ts';
import { fieldOf } from '../../src/profiles/build-field.ts';
import type { Design } from '../../src/profiles/design.ts';

const plain: Design = {
  form: [
    { element: 'bead', length: 20, start: 36 },
    { element: 'taper', length: 260, end: 28 },
    { element: 'cove', length: 20 },
  ],
};
const designs: Record<string, Design> = {
  'plain round': plain,
  'twisted flutes': {
    ...plain,
    carvings: [
      { carving: 'flutes', count: 8, depth: 2.5, land: 0.3, over: [1, 1] },
      { carving: 'twist', turns: 1, over: [1, 1] },
    ],
  },
  'with a groove across': {
    ...plain,
    carvings: [
      { carving: 'flutes', count: 8, depth: 2.5, land: 0.3, over: [1, 1] },
      { carving: 'twist', turns: 1, over: [1, 1] },
      { carving: 'groove', starts: 2, width: 4, depth: 1.5, turns: 6, hand: 'left', over: [1, 1] },
    ],
  },
};

const ANGLES = 720;
const thetas = Float64Array.from({ length: ANGLES }, (_, j) => (j * TURN) / ANGLES);
const out = new Float64Array(ANGLES);
let checksum = 0;

/** Calls a second of `work`, which counts its calls itself. */
function rate(work: () => number): number {
  const runs = Array.from({ length: 5 }, () => {
    const begun = performance.now();
    const calls = work();
    return (calls / (performance.now() - begun)) * 1000;
  });
  return runs.sort((a, b) => a - b)[2]!;
}

for (const [name, design] of Object.entries(designs)) {
  const { field } = fieldOf(design);
  if (!field) throw new Error(`the design "${name}" is not sound`);
  const ring = rate(() => {
    for (let i = 0; i < 2000; i++) {
      field.ring(30 + i * 0.12, thetas, out);
      checksum += out[i % ANGLES]!;
    }
    return 2000 * ANGLES;
  });
  const alone = rate(() => {
    for (let i = 0; i < 300_000; i++) checksum += field.radius(30 + (i % 2000) * 0.12, i * 0.01);
    return 300_000;
  });
  const bounds = rate(() => {
    for (let i = 0; i < 20_000; i++) checksum += field.bounds(30 + (i % 240), 31 + (i % 240))[0];
    return 20_000;
  });
  const line = [
    name,
    `ring ${(ring / 1e6).toFixed(1)} M/s`,
    `radius ${(alone / 1e6).toFixed(1)} M/s`,
    `bounds ${(bounds / 1e3).toFixed(0)} k/s`,
  ];
  console.log(line.join(' · '));
}
console.log(`checksum ${checksum.toFixed(3)}`);
