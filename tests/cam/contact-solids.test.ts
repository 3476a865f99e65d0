/** manifold-3d as the arbiter: a solid of the bit against a solid of the part, no radius over an angle anywhere. */
import Module, { type Manifold } from 'manifold-3d';
import { beforeAll, describe, expect, test } from 'vitest';
import { contactFor } from '../../src/cam/contact.ts';
import { bitSolid, slab, type Triangles } from '../support/contact-solids.ts';
import { cone, fluted, prism, sphere, step } from '../support/fields.ts';
import { bitOf, dice, wildSurface } from '../support/wild.ts';

let solid: (t: Triangles) => Manifold;
beforeAll(async () => {
  const kernel = await Module();
  kernel.setup();
  solid = (t) => new kernel.Manifold(new kernel.Mesh({ numProp: 3, vertProperties: t.points, triVerts: t.corners }));
});

/** Wood common to bit and part, mm³. */
function common(part: Manifold, bit: Manifold): number {
  const both = part.intersect(bit);
  const volume = both.volume();
  both.delete();
  return volume;
}

const bits = [
  bitOf('flat', { diameter: 4 }),
  bitOf('ball', { diameter: 6, tipRadius: 3 }),
  bitOf('bull', { diameter: 6, tipRadius: 1 }),
  bitOf('vee', { diameter: 6, includedAngle_deg: 60 }),
  bitOf('tapered-ball', { diameter: 5, tipRadius: 0.5, includedAngle_deg: 14 }),
];
const surfaces = [
  { name: 'twisted flutes', surface: fluted(40, 12, 8, 1.5, 3, 0.3), x: 17.3 },
  { name: 'a cone', surface: cone(40, 8, 0.3), x: 20 },
  { name: 'a sphere', surface: sphere(14, 1), x: 20 },
  { name: 'a square', surface: prism(40, 9), x: 20 },
  { name: 'a shoulder', surface: step(40, 20, 9, 11), x: 18.7 },
  { name: 'a spiral groove', surface: wildSurface(dice(2), 'groove'), x: 5 },
  { name: 'facets', surface: wildSurface(dice(5), 'facets'), x: 14 },
  { name: 'lobes', surface: wildSurface(dice(6), 'lobes'), x: 4 },
];

describe('a bit at its contact neither enters the part nor may sink', () => {
  for (const bit of bits)
    test.each(surfaces)(`${bit.kind} on $name`, ({ surface, x }) => {
      for (const theta of [0.21, 1.9]) {
        const z = contactFor(surface, bit).lowest(x, theta);
        const part = solid(slab(surface, x, theta, bit.diameter / 2));
        expect(part.status()).toBe('NoError');
        expect(part.volume()).toBeGreaterThan(10);
        const at = (tip: number) => {
          const s = solid(bitSolid(bit, x, tip));
          expect(s.status()).toBe('NoError');
          expect(s.volume()).toBeGreaterThan(10);
          const v = common(part, s);
          s.delete();
          return v;
        };
        // Chords of the nets cut hollows short by a micrometre or so: a film, never a bite.
        expect(at(z)).toBeLessThan(1e-5);
        expect(at(z - 0.05)).toBeGreaterThan(1e-5);
        part.delete();
      }
    });
});
