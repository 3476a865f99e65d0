/** The line that lies on the page, with threads that the test drives by hand. */
import { expect, test } from 'vitest';
import type { Variant } from '../../../src/batch/line.ts';
import { lineColumns, slideRange } from '../../../src/ui/line/columns.ts';
import { lineKeep } from '../../../src/ui/line/keep.ts';
import type { MadeRow } from '../../../src/ui/line/made-row.ts';
import { type LineRow, nameFor, pairRows, rowChecker, stepsOf, sweepRows } from '../../../src/ui/line/rows.ts';
import { createLine, lineTotals, madeRows, rowState } from '../../../src/ui/line/session.ts';
import type { Raw } from '../../../src/ui/state/contract.ts';
import { type LineShelf, memoryShelf } from '../../../src/ui/state/line-shelf.ts';
import { memoryStorage } from '../../../src/ui/state/storage.ts';
import { twistedPeg } from '../../support/small-parts.ts';

const peg = {
  ...twistedPeg,
  knobs: [
    { id: 'length', label: 'overall length', sets: ['length'], min: 30, max: 60, step: 5 },
    { id: 'hand', label: 'hand', sets: ['carvings[1].hand'] },
    { id: 'wood', label: 'wood', sets: ['blank.material'], choices: ['sugar-maple', 'white-oak'] },
  ],
};
const columnsOf = (raw: object) => {
  const found = lineColumns(raw as never);
  if ('problems' in found) throw new Error(found.problems[0]!.message);
  return found.columns;
};
const columns = columnsOf(peg);
const rowOf = (id: number, change: Partial<LineRow> = {}): LineRow => ({
  id,
  name: `Peg ${id}`,
  quantity: '1',
  cells: {},
  ...change,
});

test('columns are the document’s knobs with their limits and what it stands at', () => {
  expect(columns.map((c) => [c.id, c.label, c.unit, c.now, c.hand])).toEqual([
    ['length', 'overall length', 'mm', '40', false],
    ['hand', 'hand', '', 'right', true],
    ['wood', 'wood', '', 'sugar-maple', false],
  ]);
  expect(slideRange(columns[0]!)).toEqual({ from: 30, to: 60 });
});

test('an inch document has them in inches', () => {
  const inch = {
    ...peg,
    units: 'inch',
    length: 1.5,
    form: [{ element: 'cylinder', share: 1, start: 0.625 }],
    carvings: undefined,
    blank: { section: 'square', width: 0.75 },
    knobs: [{ id: 'length', label: 'length', sets: ['length'], min: 1, max: 2, step: 0.125 }],
  };
  const [length] = columnsOf(JSON.parse(JSON.stringify(inch)));
  expect([length!.now, length!.unit, length!.takes.min, length!.takes.max, length!.takes.step]).toEqual([
    '1.5',
    'in',
    1,
    2,
    0.125,
  ]);
});

test('a document without knobs offers length, girth and wood, and the hand of its twist', () => {
  const plain = columnsOf({ ...peg, knobs: undefined });
  expect(plain.map((c) => [c.id, c.now])).toEqual([
    ['length', '40'],
    ['girth', '1'],
    ['blank.material', 'sugar-maple'],
    ['carvings[1].hand', 'right'],
  ]);
});

test('steps fall on the column’s own steps inside its limits, none twice', () => {
  expect(stepsOf(columns[0]!, 30, 60, 4)).toEqual(['30', '40', '50', '60']);
  expect(stepsOf(columns[0]!, 10, 44, 3)).toEqual(['30', '45']);
});

test('rows in steps are named for what they have otherwise, and never alike', () => {
  const rows = sweepRows(
    'Peg',
    columns,
    { name: 'x', quantity: '3', cells: { wood: 'white-oak' } },
    columns[0]!,
    ['30', '40'],
    ['Peg 30 white-oak'],
  );
  expect(rows).toEqual([
    { name: 'Peg 30 white-oak (2)', quantity: '3', cells: { wood: 'white-oak', length: '30' } },
    { name: 'Peg white-oak', quantity: '3', cells: { wood: 'white-oak', length: '40' } },
  ]);
  expect(nameFor('Peg', columns, {}, ['Peg', 'Peg (2)'])).toBe('Peg (3)');
});

test('a pair is a row and its mirror image: every hand of it is turned over', () => {
  const pair = pairRows(columns, { name: 'Peg right', quantity: '2', cells: { length: '50' } }, ['Peg left'])!;
  expect(pair).toEqual([
    { name: 'Peg right', quantity: '2', cells: { length: '50', hand: 'right' } },
    { name: 'Peg left (2)', quantity: '2', cells: { length: '50', hand: 'left' } },
  ]);
  const two = columnsOf({
    ...peg,
    knobs: undefined,
    carvings: [peg.carvings[1], { ...peg.carvings[1], hand: 'left' }],
  });
  const [first, second] = pairRows(two, { name: 'Peg', quantity: '1', cells: {} }, [])!;
  expect(Object.values(first!.cells)).toEqual(['right', 'left']);
  expect(Object.values(second!.cells)).toEqual(['left', 'right']);
  expect(pairRows(columnsOf({ ...peg, knobs: [peg.knobs[0]!], carvings: undefined }), rowOf(1), [])).toBeUndefined();
});

test('what is wrong with a row says row and column; the other rows are right all the same', () => {
  const check = rowChecker();
  const rows = [
    rowOf(1),
    rowOf(2, { cells: { length: 'long' } }),
    rowOf(3, { quantity: '0' }),
    rowOf(4, { name: 'Peg 1' }),
    rowOf(5, { cells: { length: '30 to 60 by 10' } }),
    rowOf(6, { cells: { length: '61' } }),
  ];
  const checks = check(peg, columns, rows);
  expect(checks.map((c) => c.problems.map((p) => p.path))).toEqual([
    [],
    ['row 2, column 3 (length)'],
    ['row 3, column 2 (quantity)'],
    ['row 4, column 1 (name)'],
    ['row 5'],
    ['row 6, column 3 (length)'],
  ]);
  expect(checks[0]!.variant).toMatchObject({ slug: 'peg-1', row: 1, quantity: 1 });
  expect(checks[0]!.silhouette.at(-1)).toEqual([40, 8]);
  expect(checks[3]!.problems[0]!.message).toContain('row 1');
});

test('a row’s key follows from what its files follow from, not from its pieces or its place', () => {
  const check = rowChecker();
  const [a, b] = check(peg, columns, [rowOf(1), rowOf(2)]);
  const [c, d] = check(peg, columns, [rowOf(2), rowOf(1, { quantity: '9' })]);
  expect([d!.key, c!.key]).toEqual([a!.key, b!.key]);
  expect(a!.key).not.toBe(b!.key);
  expect(check(peg, columns, [rowOf(1, { cells: { length: '45' } })])[0]!.key).not.toBe(a!.key);
});

/** A line whose threads do what the test says. */
function world(shelf: LineShelf = memoryShelf(), sources = 'a', raw: object = peg) {
  const works: {
    variant: Variant;
    stopped: boolean;
    tell: (s: number) => void;
    finish: (verdict?: 'proven' | 'refused') => void;
    fail: () => void;
  }[] = [];
  const packed: { title: string; made: readonly MadeRow[]; wanted: number }[] = [];
  const line = createLine({
    threads: 2,
    make: (variant, tell) => {
      let finish = (_: MadeRow) => {};
      let fail = (_: Error) => {};
      const result = new Promise<MadeRow>((done, broken) => {
        finish = done;
        fail = broken;
      });
      const it = {
        variant,
        stopped: false,
        tell: (share: number) => tell(share, 'planning'),
        finish: (verdict: 'proven' | 'refused' = 'proven') =>
          finish({
            made: { variant, verdict, problems: [], silhouette: [], seconds: 1 },
            files: new Map([[`${variant.slug}.stl`, variant.name]]),
            ...(verdict === 'proven'
              ? { piece: { stock: 1e6, surface: 0, work: [], materialPrice: 10, benchRate: 0 } }
              : {}),
          }),
        fail: () => fail(new Error('the kernel is missing')),
      };
      works.push(it);
      return {
        result,
        stop: () => {
          it.stopped = true;
        },
      };
    },
    pack: async (title, made, wanted) => {
      packed.push({ title, made, wanted });
      return new Uint8Array();
    },
    keep: lineKeep(shelf, sources),
  });
  void line.getState().open(raw as Raw, 'one');
  const states = () => line.getState().checks.map((c) => rowState(line.getState(), c).status);
  return { line, works, packed, states };
}
const settled = () => new Promise((done) => setTimeout(done));
const add = (line: ReturnType<typeof world>['line'], n: number) =>
  line.getState().add(Array.from({ length: n }, (_, i) => ({ name: `Peg ${i + 1}`, quantity: '2', cells: {} })));

test('two rows are made at a time, and the next begins when one is done', async () => {
  const { line, works, states } = world();
  add(line, 4);
  line.getState().start();
  expect(works.map((w) => w.variant.name)).toEqual(['Peg 1', 'Peg 2']);
  works[1]!.tell(0.5);
  expect(lineTotals(line.getState()).share).toBeCloseTo(0.125, 9);
  works[1]!.finish();
  await settled();
  expect(states()).toEqual(['working', 'made', 'working', 'waiting']);
  works[0]!.finish();
  works[2]!.fail();
  await settled();
  works[3]!.finish('refused');
  await settled();
  expect(states()).toEqual(['made', 'made', 'failed', 'made']);
  expect(line.getState().running).toBe(false);
  expect(lineTotals(line.getState())).toMatchObject({ rows: 4, proven: 2, refused: 1, wrong: 0, pieces: 4 });
});

test('a stop drops what is on the way and keeps what is made; going on makes only the rest', async () => {
  const { line, works, states } = world();
  add(line, 3);
  line.getState().start();
  works[0]!.finish();
  await settled();
  line.getState().stop();
  expect(works.map((w) => w.stopped)).toEqual([false, true, true]);
  expect(states()).toEqual(['made', 'waiting', 'waiting']);
  // An answer that was on its way counts for nothing.
  works[1]!.finish();
  await settled();
  expect(states()).toEqual(['made', 'waiting', 'waiting']);
  line.getState().start();
  expect(works.slice(3).map((w) => w.variant.name)).toEqual(['Peg 2', 'Peg 3']);
});

test('a row that is changed is made again, one that changes back is not; pieces change nothing but the price', async () => {
  const { line, works, states } = world();
  add(line, 1);
  line.getState().start();
  works[0]!.finish();
  await settled();
  const { id } = line.getState().rows[0]!;
  line.getState().edit(id, { quantity: '40' });
  expect(states()).toEqual(['made']);
  expect(madeRows(line.getState())[0]!.made.variant.quantity).toBe(40);
  line.getState().edit(id, { cells: { length: '50' } });
  expect(states()).toEqual(['waiting']);
  line.getState().edit(id, { cells: {} });
  expect(states()).toEqual(['made']);
  line.getState().start();
  expect(works).toHaveLength(1);
  expect(line.getState().running).toBe(false);
});

test('rows that are wrong are left out, and the rest is made', async () => {
  const { line, works } = world();
  add(line, 2);
  line.getState().edit(line.getState().rows[0]!.id, { cells: { length: 'long' } });
  line.getState().start();
  expect(works.map((w) => w.variant.name)).toEqual(['Peg 2']);
  expect(lineTotals(line.getState()).wrong).toBe(1);
  // Mended while the rest is made, it joins in.
  line.getState().edit(line.getState().rows[0]!.id, { cells: { length: '45' } });
  expect(works.map((w) => w.variant.name)).toEqual(['Peg 2', 'Peg 1']);
});

test('the folder has what is made, in the order of the rows, and knows how many were wanted', async () => {
  const { line, works, packed } = world();
  add(line, 3);
  line.getState().start();
  works[1]!.finish();
  works[0]!.finish('refused');
  await settled();
  await line.getState().pack();
  expect(packed[0]!.title).toBe('Peg');
  expect(packed[0]!.made.map((m) => [m.made.variant.slug, m.made.verdict])).toEqual([
    ['peg-1', 'refused'],
    ['peg-2', 'proven'],
  ]);
  expect(packed[0]!.wanted).toBe(3);
});

test('a document that is not right has no line, and says why', () => {
  const { line } = world();
  void line.getState().open({ ...peg, form: [] }, 'one');
  expect(line.getState().problems[0]!.path).toBe('form');
  expect(line.getState().columns).toEqual([]);
});

test('rows and what was made of them are there again at the next visit, and each document has its own', async () => {
  const shelf = memoryShelf();
  const first = world(shelf);
  await settled();
  add(first.line, 2);
  first.line.getState().start();
  first.works[1]!.finish();
  await settled();
  // Another document: what was on the way is dropped, and its rows are its own.
  await first.line.getState().open({ ...peg, name: 'Other' }, 'two');
  expect(first.works.map((w) => w.stopped)).toEqual([true, false]);
  expect(first.line.getState()).toMatchObject({ rows: [], running: false, loading: false });
  add(first.line, 1);
  await first.line.getState().open(peg, 'one');
  expect(first.states()).toEqual(['waiting', 'made']);

  // The page is killed here: nothing of `first` is asked any more.
  const again = world(shelf);
  await settled();
  expect(again.line.getState().rows.map(({ name, quantity, cells }) => ({ name, quantity, cells }))).toEqual([
    { name: 'Peg 1', quantity: '2', cells: {} },
    { name: 'Peg 2', quantity: '2', cells: {} },
  ]);
  expect(again.states()).toEqual(['waiting', 'made']);
  expect([...madeRows(again.line.getState())[0]!.files]).toEqual([['peg-2.stl', 'Peg 2']]);
  again.line.getState().start();
  expect(again.works.map((w) => w.variant.name)).toEqual(['Peg 1']);
  await again.line.getState().open(peg, 'two');
  expect(again.line.getState().rows.map((r) => r.name)).toEqual(['Peg 1']);
});

test('what another page made is made again, and the rows stay', async () => {
  const shelf = memoryShelf();
  const first = world(shelf, 'a');
  await settled();
  add(first.line, 1);
  first.line.getState().start();
  first.works[0]!.finish();
  await settled();
  const later = world(shelf, 'b');
  await settled();
  expect(later.states()).toEqual(['waiting']);
  // What nobody can use takes no room.
  expect([...(await shelf.made('one')).keys()]).toEqual([]);
  expect((await shelf.rows('one'))!.rows.map((r) => r.name)).toEqual(['Peg 1']);
});

test('what was made of a row that is no more is dropped at the next visit, unless the document itself is not right', async () => {
  const shelf = memoryShelf();
  const first = world(shelf);
  await settled();
  add(first.line, 2);
  first.line.getState().start();
  for (const w of [...first.works]) w.finish();
  await settled();
  first.line.getState().remove(first.line.getState().rows[0]!.id);
  await settled();
  const wrong = world(shelf, 'a', { ...peg, form: [] });
  await settled();
  expect(wrong.line.getState().problems).toHaveLength(1);
  expect((await shelf.made('one')).size).toBe(2);
  const again = world(shelf);
  await settled();
  expect((await shelf.made('one')).size).toBe(1);
  expect(again.states()).toEqual(['made']);
});

test('a browser that keeps nothing is told of, and the work goes on', async () => {
  const no = async () => {
    throw new Error('QuotaExceededError');
  };
  const full = world({ ...memoryShelf(), saveMade: no });
  await settled();
  add(full.line, 1);
  full.line.getState().start();
  full.works[0]!.finish();
  await settled();
  expect(full.line.getState().unkept).toBe('made');
  expect(full.states()).toEqual(['made']);
  const none = world({ ...memoryShelf(), rows: no, saveRows: no });
  await settled();
  add(none.line, 1);
  await settled();
  expect(none.line.getState()).toMatchObject({ unkept: 'rows', loading: false });
  expect(none.states()).toEqual(['waiting']);
});

test('a line goes with its document when that is thrown away', async () => {
  const storage = memoryStorage();
  await storage.lines.saveRows('one', { rows: [], columns: [] });
  await storage.lines.saveMade('one', 'key', 1);
  await storage.remove('one');
  expect(await storage.lines.rows('one')).toBeUndefined();
  expect((await storage.lines.made('one')).size).toBe(0);

  // Nothing comes back of what was still being made.
  const { line, works } = world(storage.lines);
  await settled();
  add(line, 1);
  line.getState().start();
  await settled();
  expect((await storage.lines.rows('one'))!.rows).toHaveLength(1);
  await storage.remove('one');
  works[0]!.finish();
  await settled();
  expect((await storage.lines.made('one')).size).toBe(0);
});
