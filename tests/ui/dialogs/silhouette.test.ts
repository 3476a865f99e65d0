import { expect, test } from 'vitest';
import {
  diametersOf,
  edgesOf,
  type Pixels,
  partingLevel,
  straightened,
  thinned,
} from '../../../src/ui/dialogs/silhouette.ts';

const [WIDTH, HEIGHT] = [900, 300];
const PER_MM = 4;
const LENGTH = 180;
const radiusAt = (x: number) => (x < 40 ? 18 : x < 120 ? 12 + 6 * Math.sin((Math.PI * (x - 40)) / 80) : 12);

/** Grain and light that differ from pixel to pixel; the same at every run. */
const noise = (i: number) => ((Math.imul(i, 2654435761) >>> 8) % 21) - 10;

/** A photograph drawn by its own rule, each pixel mixed of 4 × 4 looks: a part lying at an angle. @param tilt radians @param dark whether the part is the darker */
function photograph(
  tilt: number,
  dark: boolean,
): { pixels: Pixels; at: (x: number) => { px: number; py: number; x: number } } {
  const [cx, cy] = [80, 150];
  const [c, s] = [Math.cos(tilt), Math.sin(tilt)];
  const data = new Uint8ClampedArray(4 * WIDTH * HEIGHT);
  const [part, ground] = dark
    ? [
        [120, 80, 45],
        [236, 232, 224],
      ]
    : [
        [222, 184, 135],
        [70, 74, 80],
      ];
  for (let j = 0; j < HEIGHT; j++)
    for (let i = 0; i < WIDTH; i++) {
      let inside = 0;
      for (let k = 0; k < 16; k++) {
        const [px, py] = [i + ((k % 4) + 0.5) / 4 - cx, j + ((k >> 2) + 0.5) / 4 - cy];
        const x = (px * c + py * s) / PER_MM;
        const r = (py * c - px * s) / PER_MM;
        if (x >= 0 && x <= LENGTH && Math.abs(r) <= radiusAt(x)) inside += 1 / 16;
      }
      const o = 4 * (j * WIDTH + i);
      for (let k = 0; k < 3; k++) data[o + k] = part![k]! * inside + ground![k]! * (1 - inside) + noise(o + k);
      data[o + 3] = 255;
    }
  return {
    pixels: { data, width: WIDTH, height: HEIGHT },
    at: (x) => ({ px: cx + x * PER_MM * c, py: cy + x * PER_MM * s, x }),
  };
}

/** A quarter of a pixel at each edge: noise of ±10 levels against a contrast of about 150, on pixels that are mixed of four. 0.31 measured. */
const WITHIN = 0.5 / PER_MM;

test.each([
  [0, true],
  [0.06, true],
  [-0.04, false],
])('diameters come back within half a pixel (tilt %f, darker than the ground: %s)', (tilt, dark) => {
  const { pixels, at } = photograph(tilt, dark);
  const readings = diametersOf(edgesOf(pixels, { a: at(0), b: at(LENGTH) }));
  expect(readings.length).toBeGreaterThan(300);
  // A step of the outline lies somewhere between two stations.
  for (const { at: x, diameter } of readings)
    if (Math.abs(x - 40) > 1) expect(Math.abs(diameter - 2 * radiusAt(x)), `at ${x}`).toBeLessThan(WITHIN);
});

test('marks that lie beside the axis are brought onto it', () => {
  const { pixels, at } = photograph(0.05, true);
  const [a, b] = [at(10), at(170)];
  const off = { a: { ...a, px: a.px + 1, py: a.py + 14 }, b: { ...b, px: b.px - 1, py: b.py - 9 } };
  const first = straightened(off, edgesOf(pixels, off));
  const marks = straightened(first, edgesOf(pixels, first));
  // Across the axis; along it only the two marks themselves say where they stand.
  for (const [mark, true_] of [
    [marks.a, a],
    [marks.b, b],
  ] as const)
    expect(Math.abs((mark.py - true_.py) * Math.cos(0.05) - (mark.px - true_.px) * Math.sin(0.05))).toBeLessThan(0.3);
});

test('a level parts two heaps in the middle between them', () => {
  expect(partingLevel([...Array(70).fill(10), ...Array(30).fill(110)])).toBeCloseTo(60, -1);
});

test('straight stretches are told by their ends, and what is left out is as near as was asked for', () => {
  const all = Array.from({ length: 361 }, (_, i) => ({ at: i / 2, diameter: 2 * radiusAt(i / 2) }));
  const few = thinned(all, 0.1, 200);
  expect(few.length).toBeLessThan(40);
  for (const r of all) {
    const k = few.findIndex((f) => f.at >= r.at);
    const [p, q] = [few[Math.max(0, k - 1)]!, few[k]!];
    const t = q.at > p.at ? (r.at - p.at) / (q.at - p.at) : 1;
    expect(Math.abs(p.diameter + (q.diameter - p.diameter) * t - r.diameter)).toBeLessThanOrEqual(0.1 + 1e-9);
  }
  expect(thinned(all, 0.1, 12).length).toBeLessThanOrEqual(12);
});
