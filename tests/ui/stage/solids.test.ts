import { expect, test } from 'vitest';
import { bits } from '../../../shared/catalog.ts';
import { type Blank, blankRadius } from '../../../src/cam/blank.ts';
import { bitOutlines } from '../../../src/ui/stage/bit-outline.ts';
import { cutMesh } from '../../../src/ui/stage/cut-mesh.ts';
import { cornersOf, shownRadius } from '../../../src/ui/stage/section.ts';
import { touchHeight } from '../../../src/ui/stage/touch.ts';
import { cylinder } from '../../support/fields.ts';
import { bitOf } from '../../support/proof-job.ts';

test('the ghost has the blank’s own section: every corner lies on its skin, a flat or a side faces the bit', () => {
  const blanks: Blank[] = [
    { section: 'square', width: 45, height: 45, sides: 4, from: 0, to: 1 },
    { section: 'rectangle', width: 60, height: 30, sides: 4, from: 0, to: 1 },
    { section: 'polygon', width: 40, height: 40, sides: 6, from: 0, to: 1 },
    { section: 'round', width: 50, height: 50, sides: 0, from: 0, to: 1 },
  ];
  for (const blank of blanks) {
    for (const [y, z] of cornersOf(blank))
      expect(Math.hypot(y, z)).toBeCloseTo(blankRadius(blank, Math.atan2(-y, z)), 9);
    expect(shownRadius(blank, 0)).toBeCloseTo(blank.section === 'rectangle' ? 15 : blank.width / 2, 9);
  }
  // A square turned by an eighth stands on its corner.
  expect(shownRadius(blanks[0]!, Math.PI / 4)).toBeCloseTo(45 / Math.SQRT2, 9);
});

test('the mesh of the wood being cut is closed and faces outward', () => {
  const xs = Float64Array.from([0, 1, 3, 10]);
  const columns = 16;
  const mesh = cutMesh(xs, columns);
  const p = mesh.getAttribute('position');
  const ray = mesh.getAttribute('aRay');
  const at = (v: number) => {
    const t = (2 * Math.PI * ray.getY(v)) / columns;
    const r = p.getY(v) * 5;
    return [p.getX(v), -r * Math.sin(t), r * Math.cos(t)] as const;
  };
  let volume = 0;
  const index = mesh.getIndex()!;
  for (let k = 0; k < index.count; k += 3) {
    const [a, b, c] = [at(index.getX(k)), at(index.getX(k + 1)), at(index.getX(k + 2))];
    volume +=
      (a[0] * (b[1] * c[2] - b[2] * c[1]) + a[1] * (b[2] * c[0] - b[0] * c[2]) + a[2] * (b[0] * c[1] - b[1] * c[0])) /
      6;
  }
  // Prism over a regular 16-gon: n/2·r²·sin(2π/n)·length.
  expect(volume).toBeCloseTo(8 * 25 * Math.sin(Math.PI / 8) * 10, 3);
});

test('a bit is drawn to its own measures, and stands on a cylinder at its radius', () => {
  for (const bit of bits) {
    const { end, shank, holder } = bitOutlines(bit);
    expect(end[0]).toEqual([0, 0]);
    expect(Math.max(...end.map(([r]) => r))).toBeCloseTo(bit.diameter / 2, 9);
    expect(Math.max(...shank.map(([, z]) => z))).toBeCloseTo(bit.stickOut, 9);
    expect(Math.max(...holder.map(([r]) => r))).toBeCloseTo(bit.holder / 2, 9);
  }
  const form = cylinder(100, 20);
  expect(touchHeight(form, bitOf('flat-6'), 50, 1)).toBeCloseTo(20, 6);
  expect(touchHeight(form, bitOf('ball-6'), 50, 1)).toBeCloseTo(20, 6);
  // A ball half beyond the end of the form sinks beside it.
  expect(touchHeight(form, bitOf('ball-6'), 102, 0)).toBeCloseTo(20 - (3 - Math.sqrt(9 - 4)), 1);
});
