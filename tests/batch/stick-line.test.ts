/** Pieces of a line on sticks: their order against every order there is, and every piece accounted for. */
import { describe, expect, test } from 'vitest';
import type { Variant } from '../../src/batch/line.ts';
import { cutListCsv, cutListHtml } from '../../src/batch/order-sheet.ts';
import { type Arrangeable, arrange } from '../../src/batch/stick-arrange.ts';
import { sticksOf, stockShares } from '../../src/batch/stick-line.ts';
import type { Part } from '../../src/part.ts';
import { resolvePart } from '../../src/resolve.ts';
import { template } from '../support/sticks.ts';

/** Every order and every way round of a few pieces. */
function* everyWay(
  left: readonly number[],
  kinds: readonly Arrangeable[],
): Generator<{ kind: number; turned: boolean }[]> {
  if (left.every((c) => c === 0)) yield [];
  for (let kind = 0; kind < left.length; kind++) {
    if (left[kind] === 0) continue;
    const rest = left.map((c, k) => (k === kind ? c - 1 : c));
    for (const turned of kinds[kind]!.turnable ? [false, true] : [false])
      for (const more of everyWay(rest, kinds)) yield [{ kind, turned }, ...more];
  }
}
function unlike(order: readonly { kind: number; turned: boolean }[], kinds: readonly Arrangeable[]): number {
  let before = Math.max(...kinds.flatMap((k) => k.ends));
  return order.reduce((sum, { kind, turned }) => {
    const [near, far] = turned ? [...kinds[kind]!.ends].reverse() : kinds[kind]!.ends;
    const apart = Math.abs(before - near!);
    before = far!;
    return sum + apart;
  }, 0);
}

describe('the order on a stick', () => {
  const pawn: Arrangeable = { ends: [23, 4], quantity: 2, turnable: true };
  const bishop: Arrangeable = { ends: [27, 6.5], quantity: 2, turnable: true };
  const peg: Arrangeable = { ends: [12, 18], quantity: 1, turnable: false };

  test('is the best of all orders and ways round', () => {
    for (const kinds of [
      [pawn, bishop],
      [pawn, peg],
      [bishop, peg, pawn],
    ]) {
      const found = arrange(kinds);
      const best = Math.min(
        ...[
          ...everyWay(
            kinds.map((k) => k.quantity),
            kinds,
          ),
        ].map((o) => unlike(o, kinds)),
      );
      expect(found.unlike).toBeCloseTo(best, 9);
      expect(unlike(found.order, kinds)).toBeCloseTo(best, 9);
      expect(found.exact).toBe(true);
    }
  });

  test('lays equal pieces back to back, the thick end at the chuck', () => {
    expect(arrange([{ ...pawn, quantity: 4 }]).order.map((o) => o.turned)).toEqual([false, true, false, true]);
  });

  test('with more kinds than can be tried still places every piece once', () => {
    const kinds = Array.from(
      { length: 12 },
      (_, k): Arrangeable => ({ ends: [10 + k, 30 - k], quantity: 2, turnable: k % 2 === 0 }),
    );
    const found = arrange(kinds);
    expect(found.exact).toBe(false);
    expect(found.order).toHaveLength(24);
    expect(unlike(found.order, kinds)).toBeCloseTo(found.unlike, 9);
    expect(found.order.some((o) => o.turned && !kinds[o.kind]!.turnable)).toBe(false);
  });
});

const variant = (slug: string, part: Part, quantity: number): Variant => ({
  name: `Piece ${slug}`,
  slug,
  quantity,
  row: 1,
  knobs: {},
  part,
});

describe('a line on sticks', () => {
  const pawn = template('chess-pawn');
  const tall: Part = { ...pawn, form: pawn.form.map((e, k) => (k === 4 ? { ...e, length: 22 } : e)) as Part['form'] };
  const oak: Part = { ...pawn, blank: { ...pawn.blank, material: 'white-oak' } };
  const line = [variant('pawn', pawn, 9), variant('tall', tall, 4), variant('oak', oak, 2)];
  const rack = [
    { name: 'rack', length: 400 },
    { name: 'short', length: 180, quantity: 2 },
  ];
  const made = sticksOf(line, { rack, most: 6 });

  test('has every piece on a stick, woods apart, and no stick longer than its stock', () => {
    expect(made.left).toEqual([]);
    for (const v of line)
      expect(made.sticks.reduce((sum, s) => sum + s.times * s.pieces.filter((p) => p.slug === v.slug).length, 0)).toBe(
        v.quantity,
      );
    for (const s of made.sticks) {
      expect(s.length).toBeLessThanOrEqual(s.stockLength + 1e-6);
      expect(s.pieces.length).toBeLessThanOrEqual(6);
      expect(new Set(s.pieces.map((p) => p.slug === 'oak')).size).toBe(1);
      expect(resolvePart(s.part).job?.stubs.between?.length ?? 0).toBe(s.pieces.length - 1);
    }
    expect(made.groups).toHaveLength(2);
    for (const g of made.groups) {
      expect(g.bound).toBeLessThanOrEqual(g.stockLength);
      expect(g.bound).toBeGreaterThan(0.9 * g.stockLength);
    }
  });

  test('shares all of its stock among its pieces', () => {
    const shares = stockShares(made.sticks);
    const all = line.reduce((sum, v) => sum + v.quantity * shares.get(v.slug)!, 0);
    const stock = made.sticks.reduce((sum, s) => sum + s.times * s.stockLength * s.area, 0);
    expect(all / stock).toBeCloseTo(1, 9);
    expect(shares.get('tall')!).toBeGreaterThan(shares.get('pawn')!);
  });

  test('tells what finds no place, and why', () => {
    const long = sticksOf([variant('pawn', pawn, 3)], { rack: [{ name: 'offcut', length: 60 }] });
    expect(long.left[0]).toMatchObject({ slug: 'pawn', quantity: 3, problem: { code: 'blank-too-small' } });
    const out = sticksOf([variant('pawn', pawn, 9)], { rack: [{ name: 'last', length: 180, quantity: 1 }] });
    const on = out.sticks.reduce((sum, s) => sum + s.times * s.pieces.length, 0);
    expect(on).toBeGreaterThan(0);
    expect(out.left.reduce((sum, l) => sum + l.quantity, 0)).toBe(9 - on);
    const bare = sticksOf([variant('bare', { ...pawn, blank: { ...pawn.blank, width: undefined } }, 1)], { rack });
    expect(bare.left[0]!.problem.path).toBe('blank.width');
  });

  test('stock longer than the bench takes is sawn first', () => {
    const boards = sticksOf([variant('pawn', pawn, 40)], { rack: [{ name: 'board', length: 2400 }] });
    expect(boards.left).toEqual([]);
    for (const s of boards.sticks) expect(s.stockLength).toBeLessThanOrEqual(boards.groups[0]!.longest);
    expect(boards.sticks[0]!.stock).toMatch(/^board, /);
  });

  test('the cut list has a row for each place, and no name that calculates or runs', () => {
    const odd = {
      ...made,
      sticks: made.sticks.map((s) => ({ ...s, name: '=A1', pieces: s.pieces.map((p) => ({ ...p, name: '<b>@x' })) })),
    };
    const csv = cutListCsv(odd);
    expect(csv.trim().split('\r\n')).toHaveLength(1 + made.sticks.reduce((sum, s) => sum + s.pieces.length, 0));
    expect(csv).toContain("'=A1");
    const html = cutListHtml('Line', odd);
    expect(html).toContain('&lt;b&gt;@x');
    expect(html).not.toContain('<b>@x');
  });
});
