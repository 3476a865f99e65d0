/** Changes as data: applied to a document, in the document's own units, and never offered unless they mend. */
import { expect, test } from 'vitest';
import { problemLine } from '../shared/problems.ts';
import { applyChange, changedPart, inDocumentUnits, keysOf } from '../src/part/change.ts';
import { checkPart, type Part } from '../src/part.ts';
import { checkedPart, triedChanges } from '../src/resolve/checked-part.ts';

const peg = { form: [{ element: 'cylinder', length: 16, start: 16 }] };
const part = (raw: object): Part => {
  const result = checkPart({ ...peg, ...raw });
  if ('problems' in result) throw new Error(result.problems.map(problemLine).join('; '));
  return result.part;
};

test('paths are read as problems write them', () => {
  expect(keysOf('form[3].length')).toEqual(['form', 3, 'length']);
  expect(keysOf('bits.detail[0]')).toEqual(['bits', 'detail', 0]);
  expect(keysOf('tolerance')).toEqual(['tolerance']);
});

test('a change makes the groups on its way, takes out what is null, and leaves the document itself alone', () => {
  const raw = { ...peg, bits: { roughing: 'flat-6' } };
  const changed = applyChange(raw, {
    say: '',
    set: [
      { path: 'feeds.roughing.feed', value: 900 },
      { path: 'form[0].start', value: 20 },
      { path: 'bits.roughing', value: null },
    ],
  });
  expect(changed).toEqual({
    form: [{ element: 'cylinder', length: 16, start: 20 }],
    bits: {},
    feeds: { roughing: { feed: 900 } },
  });
  expect(raw).toEqual({ ...peg, bits: { roughing: 'flat-6' } });
});

test('a change that would make no valid part is none', () => {
  expect(changedPart(part({}), { say: '', set: [{ path: 'blank.width', value: -3 }] })).toBeUndefined();
  expect(changedPart(part({}), { say: '', set: [{ path: 'plan.scallop', value: 0.1 }] })!.plan.scallop).toBe(0.1);
});

test('an inch document is changed in inches, its whole rows too', () => {
  const p = part({ units: 'inch', form: [{ element: 'cylinder', length: 1, start: 0.5 }], blank: { width: 0.75 } });
  const [problem] = inDocumentUnits(p, [
    {
      code: 'swing',
      severity: 'refuse',
      path: 'blank',
      message: '',
      changes: [
        { say: '', set: [{ path: 'blank.width', value: 50.8 }] },
        { say: '', set: [{ path: 'form[0].start', value: 25.4 }] },
        { say: '', set: [{ path: 'feeds.roughing.feed', value: 2540 }] },
        { say: '', set: [{ path: 'plan.corners', value: 'along' }] },
        { say: '', set: [{ path: 'holding.tenon', value: { diameter: 12.7 } }] },
      ],
    },
  ]);
  expect(problem!.changes!.map((c) => c.set[0]!.value)).toEqual([2, 1, 100, 'along', { diameter: 0.5 }]);
});

test('in an inch document the offered change mends it as it stands there', () => {
  const raw = {
    units: 'inch',
    form: [{ element: 'cylinder', length: 0.6, start: 0.6 }],
    blank: { section: 'square', width: 0.7, offCentre: 0.1 },
  };
  const p = part(raw);
  const problem = triedChanges(p, checkedPart(p).problems).find((q) => q.code === 'off-centre')!;
  // (0.7 − 0.6)/2 = 0.05 in of wood; rounded down to a tenth of a millimetre.
  expect(problem.measure!.bound).toBeCloseTo(0.05 * 25.4, 9);
  expect(problem.changes![0]!.set[0]!.value).toBeCloseTo(1.2 / 25.4, 6);
  const after = checkPart(applyChange({ ...peg, ...raw }, problem.changes![0]!));
  if (!('part' in after)) throw new Error('the change broke the document');
  expect(checkedPart(after.part).problems.filter((q) => q.code === 'off-centre' && q.severity === 'refuse')).toEqual(
    [],
  );
});

test('what does not mend is not offered: a form without shared lengths cannot give way', () => {
  const p = part({
    form: [{ element: 'cylinder', length: 240, start: 16 }],
    blank: { section: 'round', width: 20 },
    bench: 'small',
  });
  const tried = triedChanges(p, checkedPart(p).problems).find((q) => q.code === 'blank-too-long')!;
  expect(
    checkedPart(p)
      .problems.find((q) => q.code === 'blank-too-long')!
      .changes!.some((c) => c.set[0]!.path === 'length'),
  ).toBe(true);
  expect(tried.changes!.map((c) => c.set[0]!.path)).toEqual(['bench']);
});

test('stock that is too small says which would do, and it does', () => {
  const p = part({ form: [{ element: 'cylinder', length: 16, start: 30 }], blank: { width: 20 } });
  const checked = checkedPart(p);
  expect(checked.job).toBeUndefined();
  const [problem] = triedChanges(p, checked.problems);
  const wide = changedPart(p, problem!.changes![0]!)!;
  expect(wide.blank.width).toBeGreaterThanOrEqual(30);
  expect(checkedPart(wide).job).toBeDefined();
});
