import { describe, expect, test } from 'vitest';
import { type Element, elementKinds } from '../../../src/profiles/elements/registry.ts';
import { layOut } from '../../../src/profiles/layout.ts';
import { formSection } from '../../../src/resolve/blank.ts';
import { split, turnedRound } from '../../../src/ui/lanes/reshape.ts';

const stock = formSection({ section: 'square', width: 45, height: 45, sides: 4 });
const first = { element: 'cylinder', length: 1, start: 30 } as Element;
const placedOf = (form: Element[]) => layOut({ form: [first, ...form] }, stock).placed.slice(1);
/** Radius of a row of elements at u from its beginning, mm. */
function radiusAt(form: Element[], u: number): number {
  const placed = placedOf(form);
  expect(placed).toHaveLength(form.length);
  const p = placed.find((q) => u + 1 <= q.to) ?? placed.at(-1)!;
  return p.outline.radius(u + 1 - p.from, -1);
}
/** Places looked at, away from joints, where a shoulder has two radii. */
const shares = [0.03, 0.17, 0.31, 0.44, 0.58, 0.71, 0.86, 0.97];

describe.each(elementKinds.map((k) => k.kind))('%s', (kind) => {
  const example = { length: 24, ...elementKinds.find((k) => k.kind === kind)!.example } as unknown as Element;
  const p = placedOf([example])[0]!;
  const length = p.to - p.from;

  test('turned end for end shows the same outline from the other side', () => {
    const turned = turnedRound(example, p, 1, stock) as Element;
    for (const s of shares)
      expect(radiusAt([turned], s * length)).toBeCloseTo(p.outline.radius((1 - s) * length, 1), 0.9);
  });
  test('split in two looks as before', () => {
    const halves = split(example, p, 0.5, 1, stock) as [Element, Element];
    for (const s of shares)
      expect(Math.abs(radiusAt(halves, s * length) - p.outline.radius(s * length, -1))).toBeLessThan(0.2);
  });
});

test('a cylinder and a taper stay what they are when split', () => {
  for (const e of [
    { element: 'cylinder', length: 40, start: 30 },
    { element: 'taper', length: 40, start: 30, end: 20 },
  ] as Element[]) {
    const halves = split(e, placedOf([e])[0]!, 0.25, 1, stock)!;
    expect(halves.map((h) => [h.element, h.length])).toEqual([
      [e.element, 10],
      [e.element, 30],
    ]);
  }
});

test('quarter-rounds turn into themselves with their diameters changed over', () => {
  const e = { element: 'ovolo', length: 10, start: 30, end: 20 } as Element;
  expect(turnedRound(e, placedOf([e])[0]!, 1, stock)).toMatchObject({ element: 'ovolo', start: 20, end: 30 });
});
