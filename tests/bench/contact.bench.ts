/**
 * How fast the contact kernel answers along finishing spirals, against brute force over a net of the same kind in the
 * same run. Run: `npx tsx tests/bench/contact.bench.ts`. Prints positions a second for a first run (samples are made
 * on the way) and for a second one, the ratio to brute force, what was looked at, and a checksum.
 */
import type { Bit } from '../../shared/catalog.ts';
import { TURN } from '../../shared/units.ts';
import { profileHeight, profileOf } from '../../src/cam/bit.ts';
import { contactFor } from '../../src/cam/contact.ts';
import type { Surface } from '../../src/profiles/field.ts';
import { cone, fluted, prism } from '../support/fields.ts';
import { bitOf, dice, wildSurface } from '../support/wild.ts';

/** Every sample of a 0.1 mm net under the bit, no bounds, no settling: what a first version would do. */
function brute(surface: Surface, bit: Bit): (x: number, theta: number) => number {
  const step = 0.1;
  const profile = profileOf(bit);
  const R = profile.radius;
  const rows = Math.floor((surface.to - surface.from) / step) + 1;
  const cols = Math.ceil((TURN * surface.maxRadius) / step);
  const net = new Float32Array(rows * cols);
  for (let i = 0; i < rows; i++)
    for (let j = 0; j < cols; j++) net[i * cols + j] = surface.radius(surface.from + i * step, (j * TURN) / cols);
  const sin = Float64Array.from({ length: cols }, (_, j) => Math.sin((j * TURN) / cols));
  const cos = Float64Array.from({ length: cols }, (_, j) => Math.cos((j * TURN) / cols));
  const wide = Math.ceil((Math.asin(Math.min(1, R / surface.minRadius)) / TURN) * cols);
  return (x, theta) => {
    let best = 0;
    const middle = Math.round((theta / TURN) * cols);
    const i0 = Math.max(0, Math.ceil((x - R - surface.from) / step));
    const i1 = Math.min(rows - 1, Math.floor((x + R - surface.from) / step));
    for (let i = i0; i <= i1; i++) {
      const u = surface.from + i * step - x;
      for (let j = -wide; j <= wide; j++) {
        const k = (j + cols) % cols;
        const r = net[i * cols + ((((middle + j) % cols) + cols) % cols)]!;
        const y = r * sin[k]!;
        const d2 = u * u + y * y;
        if (d2 > R * R) continue;
        const v = r * cos[k]! - profileHeight(profile, Math.sqrt(d2));
        if (v > best) best = v;
      }
    }
    return best;
  };
}

const ball = bitOf('ball', { diameter: 6, tipRadius: 3 });
const flat = bitOf('flat');
const twisted = fluted(700, 22.5, 8, 2, 4, 1.5);
const cases: { part: string; surface: Surface; bit: Bit; force: boolean }[] = [
  { part: 'twisted flutes 700 × ⌀45', surface: twisted, bit: ball, force: true },
  { part: 'twisted flutes 700 × ⌀45', surface: twisted, bit: flat, force: false },
  { part: 'twisted flutes 700 × ⌀45', surface: twisted, bit: bitOf('bull', { tipRadius: 1 }), force: false },
  { part: 'twisted flutes 700 × ⌀45', surface: twisted, bit: bitOf('vee', { includedAngle_deg: 60 }), force: false },
  {
    part: 'twisted flutes 700 × ⌀45',
    surface: twisted,
    bit: bitOf('tapered-ball', { tipRadius: 0.5, includedAngle_deg: 10 }),
    force: false,
  },
  { part: 'square 300 × 30', surface: prism(300, 15), bit: ball, force: true },
  { part: 'square 300 × 30', surface: prism(300, 15), bit: flat, force: false },
  { part: 'mixed 40', surface: wildSurface(dice(3)), bit: ball, force: true },
  { part: 'taper 700 × ⌀16…44', surface: cone(700, 8, 0.02), bit: ball, force: false },
];

for (const { part, surface, bit, force } of cases) {
  const n = 200_000;
  const xs = Float64Array.from({ length: n }, (_, i) => surface.from + ((surface.to - surface.from) * i) / n);
  const thetas = Float64Array.from({ length: n }, (_, i) => (i * TURN) / 360);
  const out = new Float64Array(n);
  const contact = contactFor(surface, bit);
  const t0 = performance.now();
  contact.along(xs, thetas, out);
  const t1 = performance.now();
  const before = contact.work;
  contact.along(xs, thetas, out);
  const t2 = performance.now();
  const after = contact.work;
  let line = `${part}, ${bit.kind}: first ${Math.round((n / (t1 - t0)) * 1000)}/s, again ${Math.round((n / (t2 - t1)) * 1000)}/s`;
  line += `, ${((after.samples - before.samples) / n).toFixed(0)} samples and ${((after.exact - before.exact) / n).toFixed(1)} exact radii each`;
  if (force) {
    const slow = brute(surface, bit);
    const some = 2000;
    const t3 = performance.now();
    let sum = 0;
    for (let i = 0; i < some; i++) sum += slow(xs[i * (n / some)]!, thetas[i * (n / some)]!);
    const each = (performance.now() - t3) / some;
    const ours = Array.from({ length: some }, (_, i) => out[i * (n / some)]!).reduce((a, b) => a + b, 0);
    line += `; brute force ${Math.round(1000 / each)}/s, ×${((each * n) / (t2 - t1)).toFixed(1)}, mean ${((ours - sum) / some).toFixed(4)} mm above it`;
  }
  console.log(`${line}; checksum ${out.reduce((a, b) => a + b, 0).toFixed(3)}`);
}
