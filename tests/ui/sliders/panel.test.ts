/** Everything of the schema can be set, added and taken out again from the panel, each in one step of undo. */
import { produce } from 'immer';
import { expect, test } from 'vitest';
import { checkFit } from '../../../src/cam/fit.ts';
import { partSchema } from '../../../src/part/document.ts';
import { pathText } from '../../../src/part/place.ts';
import { schemaAt, valueAt } from '../../../src/part/walk.ts';
import { checkPart } from '../../../src/part.ts';
import { carvingKinds } from '../../../src/profiles/carvings/registry.ts';
import { elementKinds } from '../../../src/profiles/elements/registry.ts';
import { partsOf } from '../../../src/ui/sliders/about-selection.ts';
import { addEntry, leaveOut, nameRow, OWN, putIn, setRow } from '../../../src/ui/sliders/document-edits.ts';
import { type FieldGroup, type FieldRow, fieldsAt } from '../../../src/ui/sliders/fields.ts';
import { typedRow } from '../../../src/ui/sliders/units.ts';
import type { Path, Raw, Selection, StepName } from '../../../src/ui/state/contract.ts';
import { derive } from '../../../src/ui/state/derive.ts';

const STEPS: StepName[] = ['bench', 'blank', 'form', 'carving', 'cutting', 'strength', 'proof', 'take-away'];

const known = (raw: Raw) => {
  const derived = derive(raw);
  const { field, layout, job } = derived;
  return { raw, ...derived, lastGood: field && layout ? { field, layout, job } : undefined };
};

const selections = (raw: Raw): Selection[] => [
  ...STEPS.map((step) => ({ kind: 'step' as const, step })),
  ...((raw.form ?? []) as unknown[]).map((_, index) => ({ kind: 'element' as const, index })),
  ...((raw.carvings ?? []) as unknown[]).map((_, index) => ({ kind: 'carving' as const, index })),
];

/** All that the panel ever shows of a document. */
const panelOf = (raw: Raw): FieldGroup[] =>
  selections(raw).flatMap((s) => partsOf(known(raw), s, 'mm').flatMap((p) => fieldsAt(raw, p.path, p.only)));

const under = (path: Path) => (p: { path: string }) => p.path.startsWith(pathText(path));
const problemsAt = (raw: Raw, path: Path) => {
  const checked = checkPart(raw);
  return 'problems' in checked ? checked.problems.filter(under(path)) : [];
};

const rod: Raw = {
  name: 'Rod',
  length: 120,
  form: [
    { element: 'cylinder', length: 30, start: 30 },
    { element: 'taper', share: 1, start: 28, end: 22 },
  ],
  carvings: [{ carving: 'flutes', over: [1, 1], inset: 4, count: 8, depth: 1.5 }],
};

/** The keys that a hand sets somewhere else: kinds are picked from the palette, the rest are the program's. */
const ELSEWHERE = ['form', 'carvings', 'name', '$schema', 'cavetto', 'element', 'carving'];

test('every key of the document has its row, its switch or its list on the panel', () => {
  const shown = new Set(panelOf(rod).flatMap((g) => [g.path, ...g.rows.map((r) => r.path)].map(pathText)));
  const missing: string[] = [];
  const look = (path: Path) => {
    const schema = path.length ? schemaAt(partSchema, rod, path)! : partSchema;
    for (const key of Object.keys(groupShape(schema))) {
      const at = [...path, key];
      if (ELSEWHERE.includes(key)) continue;
      if (!shown.has(pathText(at))) missing.push(pathText(at));
    }
  };
  for (const path of [[], ['blank'], ['holding'], ['bits'], ['plan'], ['price'], ['solid'], ['solid', 'tenons']])
    look(path);
  // A group that is always there has no switch, but its members are shown.
  expect(missing.filter((p) => !['blank', 'holding', 'bits', 'plan', 'price', 'solid'].includes(p))).toEqual([]);
});

const groupShape = (schema: unknown): Record<string, unknown> => {
  let at = schema as { def: { innerType?: unknown; shape?: Record<string, unknown> } };
  while (at.def.innerType) at = at.def.innerType as typeof at;
  return at.def.shape ?? {};
};

test.each(elementKinds.map((k) => [k.kind, k] as const))(
  '%s: every number and list of it is on the panel',
  (_, kind) => {
    const raw: Raw = { form: [{ element: 'cylinder', length: 9, start: 30 }, kind.example as never] };
    const shown = new Set(
      fieldsAt(raw, ['form', 1]).flatMap((g) => [g.path, ...g.rows.map((r) => r.path)].map(pathText)),
    );
    const keys = Object.keys(kind.schema.shape).filter((k) => !ELSEWHERE.includes(k));
    expect(keys.filter((k) => !shown.has(`form[1].${k}`))).toEqual([]);
  },
);

test.each(carvingKinds.map((k) => [k.kind, k] as const))(
  '%s: every number and list of it is on the panel',
  (_, kind) => {
    const raw: Raw = { form: [{ element: 'cylinder', length: 90, start: 30 }], carvings: [kind.example as never] };
    const shown = new Set(
      fieldsAt(raw, ['carvings', 0]).flatMap((g) => [g.path, ...g.rows.map((r) => r.path)].map(pathText)),
    );
    const keys = Object.keys(kind.schema.shape).filter((k) => !ELSEWHERE.includes(k));
    expect(keys.filter((k) => !shown.has(`carvings[0].${k}`))).toEqual([]);
  },
);

const inch = (raw: Raw): Raw => {
  const w = known(raw);
  const units = fieldsAt(raw, [], ['units'])[0]!.rows[0]!;
  return produce(raw, setRow(w, units, 'inch'));
};

test.each([
  ['mm', rod],
  ['inch', inch(rod)],
])('whatever may be left out can be added and taken out again (%s)', (_, raw) => {
  const w = known(raw);
  const absent = panelOf(raw).filter((g) => g.optional && !g.optional.present);
  expect(absent.map((g) => pathText(g.path))).toEqual(
    expect.arrayContaining(['solid.bore', 'solid.tenons.chuck', 'bits.detail', 'bits.drills']),
  );
  for (const { path } of absent) {
    const added = produce(raw, putIn(w, path));
    expect(valueAt(added, path), pathText(path)).toBeDefined();
    expect(problemsAt(added, path), pathText(path)).toEqual([]);
    const gone = produce(added, leaveOut(known(added), path));
    expect(valueAt(gone, path)).toBeUndefined();
    // A group that was made for it may stay, empty; nothing else may.
    expect(prune(gone)).toEqual(prune(raw));
  }
  const optional = panelOf(raw).flatMap((g) => g.rows.filter((r) => r.optional && valueAt(raw, r.path) === undefined));
  expect(optional.length).toBeGreaterThan(20);
  for (const row of optional) {
    const added = produce(raw, putIn(w, row.path, row));
    expect(valueAt(added, row.path), pathText(row.path)).toBeDefined();
  }
});

test('a number of one’s own begins as what would be planned, a tenon as what the torque asks for', () => {
  const opened: Raw = { ...rod, feeds: { roughing: {}, finishing: {} } };
  const w = known(opened);
  const { roughing, finishing } = w.job!.tools;
  const put = (path: string) => {
    const row = panelOf(opened)
      .flatMap((g) => g.rows)
      .find((r) => pathText(r.path) === path)!;
    return valueAt(produce(opened, putIn(w, row.path, row)), row.path);
  };
  expect(put('feeds.roughing.feed')).toBeCloseTo(roughing.limits.feed, 6);
  expect(put('feeds.finishing.feed')).toBeCloseTo(finishing.limits.finishFeed, 6);
  expect(put('feeds.finishing.rpm')).toBe(finishing.limits.rpm);
  const made = produce(rod, putIn(known(rod), ['holding', 'tenon']));
  expect(known(made).job!.holding.tenon!.diameter).toBeGreaterThanOrEqual(8);
  expect(checkFit(known(made).job!).filter((p) => p.severity === 'refuse')).toEqual([]);
});

/** Without empty groups. */
const prune = (value: unknown): unknown =>
  typeof value !== 'object' || value === null || Array.isArray(value)
    ? value
    : Object.fromEntries(
        Object.entries(value)
          .map(([k, v]) => [k, prune(v)] as const)
          .filter(([, v]) => !(typeof v === 'object' && v !== null && !Array.isArray(v) && !Object.keys(v).length)),
      );

test('a carving that no longer lies over elements stays where it is, and so does its element when a length becomes a share', () => {
  const w = known(rod);
  const loose = produce(rod, leaveOut(w, ['carvings', 0, 'over']));
  expect(loose.carvings).toEqual([{ carving: 'flutes', from: 34, to: 116, count: 8, depth: 1.5 }]);
  const row = fieldsAt(rod, ['form', 0])[0]!.rows.find((r) => r.path[2] === 'length')!;
  const shared = produce(rod, setRow(w, row, undefined));
  expect((shared.form as Raw[])[0]).toEqual({ element: 'cylinder', start: 30, share: expect.closeTo(1 / 3, 4) });
  expect(derive(shared).layout!.placed[0]!.to).toBeCloseTo(30, 2);
});

test('a choice takes what it makes needless out, and puts what it needs in', () => {
  const choose = (raw: Raw, path: Path, value: string): Raw => {
    const row = fieldsAt(raw, path.slice(0, -1))
      .flatMap((g) => g.rows)
      .find((r) => pathText(r.path) === pathText(path))!;
    return produce(raw, setRow(known(raw), row, value));
  };
  const eight = choose(rod, ['blank', 'section'], 'polygon');
  expect(problemsAt(eight, ['blank'])).toEqual([]);
  expect(Object.keys(eight.blank as Raw)).toContain('sides');
  const flat = choose(eight, ['blank', 'section'], 'rectangle');
  expect(problemsAt(flat, ['blank'])).toEqual([]);
  expect(Object.keys(choose(flat, ['blank', 'section'], 'round').blank as Raw).sort()).toEqual(['section']);
  const bored = produce(rod, putIn(known(rod), ['solid', 'bore']));
  const blind = choose(bored, ['solid', 'bore', 'from'], 'tail');
  expect((blind.solid as { bore: Raw }).bore.depth).toBeGreaterThan(0);
  expect(problemsAt(choose(blind, ['solid', 'bore', 'from'], 'through'), ['solid'])).toEqual([]);
});

test('a bench of one’s own goes back to the catalog’s row', () => {
  const row = fieldsAt(rod, [], ['bench'])[0]!.rows[0] as FieldRow;
  const own = produce(rod, setRow(known(rod), row, OWN));
  expect(problemsAt(own, ['bench'])).toEqual([]);
  const group = fieldsAt(own, [], ['bench']).find((g) => g.catalogRow)!;
  const back = produce(own, nameRow(known(own), ['bench'], group.catalogRow!));
  expect(back.bench).toBe('middle');
});

test('one more reading lies between the last two; a list loses entries down to its least', () => {
  const readings = [0, 10, 20].map((at) => ({ at, diameter: 20 + at / 10 }));
  const raw: Raw = { form: [{ element: 'measured', readings }] };
  const more = produce(raw, addEntry(known(raw), ['form', 0, 'readings']));
  expect((more.form as { readings: unknown }[])[0]!.readings).toEqual([
    readings[0],
    readings[1],
    { at: 15, diameter: 21.5 },
    readings[2],
  ]);
  expect(checkPart(more)).toHaveProperty('part');
  const two = produce(raw, leaveOut(known(raw), ['form', 0, 'readings', 2]));
  const groups = fieldsAt(two, ['form', 0]);
  expect(groups.find((g) => g.list)!.list).toEqual({ length: 2, least: 2, most: 1000, hidden: false });
  expect(groups.filter((g) => g.entry).map((g) => g.entry)).toEqual([{ removable: false }, { removable: false }]);
  const bits = produce(rod, putIn(known(rod), ['bits', 'detail']));
  const one = produce(bits, addEntry(known(bits), ['bits', 'detail']));
  expect(checkPart(one)).toHaveProperty('part');
});

const girth = { step: 0.01, min: 0.1, max: 10 };
const long = { unit: 'mm', step: 0.5, min: 3, max: 600 } as const;
test.each([
  [girth, 'abc', 'abc is no number: 0.1 to 10'],
  [girth, 'NaN', 'NaN is no number: 0.1 to 10'],
  [girth, '1e308', '1e308 is out of limits: 0.1 to 10'],
  [girth, '-5', '-5 is out of limits: 0.1 to 10'],
  [girth, '2 ells', '2 ells is no number: 0.1 to 10'],
  [girth, ' ', 'Nothing is no number: 0.1 to 10'],
  [long, '2', '2 is out of limits: 3 to 600 mm'],
  [long, 'wide', 'wide is no number: 3 to 600 mm'],
  [{ ...girth, max: Infinity }, '0', '0 is out of limits: 0.1 or more'],
])('a typed number that cannot be is refused in words, never moved to a limit: %j %s', (row, text, refused) => {
  expect(typedRow(row, text, 'mm')).toEqual({ refused });
});

test.each([
  [girth, '1,25', 'mm', 1.25],
  [{ ...girth, unit: 'deg' }, '2.5°', 'mm', 2.5],
  [long, '1/2 in', 'mm', 12.7],
  [girth, '10', 'mm', 10],
  // The limit as it is shown in inches, 3 mm = 0.1181 in, is rounded below it: it counts as the limit.
  [long, '0.1181', 'inch', 3],
] as const)('%j %s is taken', (row, text, shown, value) => {
  expect(typedRow(row, text, shown)).toEqual({ value });
});
