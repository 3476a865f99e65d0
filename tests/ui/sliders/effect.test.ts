import { expect, test } from 'vitest';
import { type Carving, carvingKinds } from '../../../src/profiles/carvings/registry.ts';
import { type Element, elementKinds } from '../../../src/profiles/elements/registry.ts';
import { carvingEffect, effectDrawing } from '../../../src/ui/sliders/effect.ts';
import { fieldsAt } from '../../../src/ui/sliders/fields.ts';

const ROD = { length: 90, diameter: 36 };
const cylinder = { element: 'cylinder', length: 90, start: 36 };
/** Numbers that place a thing and do not shape it: a stretch of its own shows nothing of them. */
const PLACING = ['share', 'from', 'to', 'inset'];

test.each(elementKinds.map((k) => [k.kind, k.example as Element] as const))(
  '%s: more of each number that shapes it is seen',
  (_, element) => {
    const rows = fieldsAt({ form: [cylinder, element] }, ['form', 1])[0]!.rows.filter((r) => r.kind === 'number');
    const drawn = rows.filter((r) => effectDrawing(element, String(r.path[2]), r));
    const shown = drawn.map((r) => String(r.path[2]));
    if (element.element !== 'measured' && element.element !== 'pommel') expect(shown.length).toBeGreaterThan(0);
    for (const r of drawn) {
      const { now, more } = effectDrawing(element, String(r.path[2]), r)!;
      expect(more).not.toBe(now);
      expect(`${now}${more}`).not.toMatch(/NaN|Infinity/);
    }
  },
);

test.each(carvingKinds.map((k) => [k.kind, k.example as Carving] as const))(
  '%s: more of what shapes it is seen in its section or along it',
  (_, carving) => {
    const rows = fieldsAt({ form: [cylinder], carvings: [carving] }, ['carvings', 0])[0]!.rows.filter(
      (r) => r.kind === 'number' && !PLACING.includes(String(r.path[2])),
    );
    const drawn = rows.flatMap((r) => carvingEffect(carving, String(r.path[2]), r, ROD) ?? []);
    // Holes leave the radius of the form as it is: there is nothing of them in a section.
    if (carving.carving !== 'holes') expect(drawn.length).toBeGreaterThan(0);
    for (const d of drawn) {
      expect(`${d.now}${d.lines}${d.more}`).not.toMatch(/NaN|Infinity/);
      expect(d.more).not.toBe(d.lines || d.now);
    }
  },
);

test('twisting flutes leaves their section and slants their lines', () => {
  const flutes = { carving: 'flutes', count: 8, depth: 2, turns: 0.25 } as Carving;
  const drawn = carvingEffect(flutes, 'turns', { unit: 'turns', min: 0, max: 500, step: 0.05 }, ROD)!;
  expect(drawn.lines.length).toBeGreaterThan(100);
  const deeper = carvingEffect(flutes, 'depth', { min: 0.05, max: 100, step: 0.25 }, ROD)!;
  expect(deeper.lines).toBe('');
});
