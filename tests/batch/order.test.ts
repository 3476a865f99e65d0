/** The order of work against every order there is, its days, and its lists as files. */
import Papa from 'papaparse';
import { describe, expect, test } from 'vitest';
import { orderOfWork, type Run, SHOP } from '../../src/batch/order.ts';
import { runListCsv, runListHtml } from '../../src/batch/order-sheet.ts';

const run = (id: string, blank: string, bits: string[], more: Partial<Run> = {}): Run => ({
  id,
  name: `run ${id}`,
  bench: 'middle',
  blank,
  bits,
  machine_min: 30,
  quantity: 1,
  pieces: 8,
  ...more,
});

/** Even numbers from a seed (the minimal standard generator of Park & Miller 1988). */
function dice(seed: number): (below: number) => number {
  let state = seed;
  return (below) => {
    state = (state * 48271) % 2147483647;
    return state % below;
  };
}
const BITS = ['flat-6', 'ball-6', 'flat-10', 'tapered-half'];
const BLANKS = ['square 28', 'square 32', 'round 40'];
const some = (seed: number, n: number, quantity = 1): Run[] => {
  const roll = dice(seed);
  return Array.from({ length: n }, (_, k) =>
    run(`${k}`, BLANKS[roll(3)]!, [BITS[roll(4)]!, BITS[roll(4)]!, BITS[roll(4)]!], { quantity: 1 + roll(quantity) }),
  );
};

/** Set-up of an order, counted by hand: first bit and jaws, then every change. */
function counted(order: readonly Run[]): number {
  let spindle = '';
  let jaws = '';
  let minutes = 0;
  for (const r of order) {
    if (r.blank !== jaws) minutes += SHOP.jaws_min;
    jaws = r.blank;
    for (const bit of r.bits) {
      if (bit !== spindle) minutes += SHOP.bitChange_min;
      spindle = bit;
    }
  }
  return minutes;
}
function* orders<T>(list: readonly T[]): Generator<T[]> {
  if (list.length < 2) yield [...list];
  for (let i = 0; list.length > 1 && i < list.length; i++)
    for (const rest of orders([...list.slice(0, i), ...list.slice(i + 1)])) yield [list[i]!, ...rest];
}

test('the run list says one of a thing as one, and what its hours count', () => {
  const html = (quantity: number) =>
    runListHtml('Pegs', orderOfWork([run('a', 'round 40', ['flat-6'], { pieces: 1, quantity })]));
  expect(html(1)).toContain('1 mounting, 1 piece, 1 change of bit, jaws set once<');
  expect(html(2)).toContain('2 mountings, 2 pieces, 1 change of bit, jaws set once<');
  expect(html(2)).toContain('machine hours 1:00, for the pieces as ordered: what is spoiled comes on top');
});

describe('the order of work', () => {
  test.each([1, 2, 3, 4, 5, 6])('is the best of all orders, seed %d', (seed) => {
    const runs = some(seed, 6);
    const [list] = orderOfWork(runs);
    const best = Math.min(...[...orders(runs)].map(counted));
    expect(list!.setup_min).toBe(best);
    expect(counted(list!.lines.map((l) => l.run))).toBe(best);
    expect(list!.bound_min).toBeLessThanOrEqual(best);
    expect(list!.bitChanges * SHOP.bitChange_min + list!.jaws * SHOP.jaws_min).toBe(best);
  });

  test('runs everything once, and with many kinds stays near the least that there is', () => {
    const runs = some(9, 60, 4);
    const [list] = orderOfWork(runs);
    for (const r of runs)
      expect(list!.lines.filter((l) => l.run === r).map((l) => l.number)).toEqual(
        Array.from({ length: r.quantity }, (_, k) => k + 1),
      );
    expect(list!.setup_min).toBe(counted(list!.lines.map((l) => l.run)));
    expect(list!.setup_min).toBeGreaterThanOrEqual(list!.bound_min);
    expect(list!.setup_min).toBeLessThanOrEqual(1.05 * list!.bound_min);
    // As the table gives them it takes half as much again.
    expect(counted(runs.flatMap((r) => new Array<Run>(r.quantity).fill(r)))).toBeGreaterThan(1.3 * list!.setup_min);
  });

  test('one blank after the other, and no change between sticks that begin with the bit that the last one ended with', () => {
    const sticks = ['a', 'b', 'a2', 'b2'].map((id) =>
      run(id, id.startsWith('a') ? 'square 28' : 'square 32', ['flat-6', 'ball-6', 'flat-6']),
    );
    const [list] = orderOfWork(sticks);
    expect(list!.jaws).toBe(2);
    expect(list!.bitChanges).toBe(1 + 4 * 2);
  });

  test('a day holds what its hours hold; every bench has its own list', () => {
    const runs = [
      run('long', 'square 28', ['flat-6'], { machine_min: 200, quantity: 3 }),
      run('other', 'round 40', ['flat-6'], { bench: 'long', machine_min: 500 }),
    ];
    const lists = orderOfWork(runs, { ...SHOP, hoursADay: 7 });
    expect(lists.map((l) => l.bench)).toEqual(['middle', 'long']);
    // 3 + 6 + 4 + 200 and 4 + 200 fill 417 of 420 minutes; the third waits for the morning.
    expect(lists[0]!.lines.map((l) => [l.day, l.from_min, l.to_min])).toEqual([
      [1, 0, 213],
      [1, 213, 417],
      [2, 0, 204],
    ]);
    expect(lists[0]!.days.map((d) => [d.minutes, d.machine_min, d.sticks, d.pieces])).toEqual([
      [417, 400, 2, 16],
      [204, 200, 1, 8],
    ]);
    expect(lists[1]!.lines[0]).toMatchObject({ day: 1, to_min: 513 });
  });

  test('a number that is none is the caller’s fault', () => {
    expect(() => orderOfWork([run('x', 'a', ['b'], { machine_min: Number.NaN })])).toThrow(RangeError);
    expect(() => orderOfWork([run('x', 'a', ['b'], { quantity: 0.5 })])).toThrow(RangeError);
    expect(orderOfWork([])).toEqual([]);
  });
});

describe('the run list', () => {
  const nasty = run('n', '=1+1', ['flat-6'], { name: '=HYPERLINK("x")<script>alert(1)</script>', quantity: 2 });
  const lists = orderOfWork([nasty]);

  test('as CSV has one row for each mounting, and no cell that a spreadsheet would calculate', () => {
    const { data } = Papa.parse<string[]>(runListCsv(lists), { skipEmptyLines: true });
    expect(data).toHaveLength(3);
    for (const cell of data.flat()) expect(cell).not.toMatch(/^\s*[=+\-@]/);
    expect(data[1]![4]).toBe(`'${nasty.name}`);
  });

  test('as a page shows names as they are written and runs nothing', () => {
    const html = runListHtml('A <line>', lists);
    expect(html).not.toContain('<script>alert');
    expect(html).toContain('&lt;script&gt;');
    expect(html).toContain('A &lt;line&gt;');
  });
});
