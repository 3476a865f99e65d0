import { expect, test } from 'vitest';
import { strengthOf } from '../../../src/cam/strength.ts';
import { partSchema } from '../../../src/part/document.ts';
import type { FitResult, Raw } from '../../../src/ui/state/contract.ts';
import { inWords, placeWords, problemWords } from '../../../src/ui/state/place-words.ts';
import { giveText, mendWords, toldStep } from '../../../src/ui/state/steps.ts';
import { memoryStorage } from '../../../src/ui/state/storage.ts';
import { createWorkshop, type Services } from '../../../src/ui/state/workshop.ts';

const raw: Raw = {
  name: 'Post',
  form: [
    { element: 'cylinder', length: 40, start: 30 },
    { element: 'bead', length: 8, start: 20 },
    { element: 'taper', share: 1, start: 24, end: 18 },
  ],
  length: 200,
  carvings: [{ carving: 'flutes', over: [2, 2], count: 8, section: 'round', depth: 1.5 }],
};

test.each([
  ['', 'the document'],
  ['blank.width', 'blank: width'],
  ['form[1]', '2nd element, bead'],
  ['form[1].length', '2nd element, bead: length'],
  ['carvings[0].depth', '1st carving, flutes: depth'],
  ['bits.detail[1]', 'bits: detail bits, 2nd'],
  ['solid.tenons.chuck.diameter', 'solid: tenons, tenon, chuck, diameter'],
  ['form[7].length', '8th element: length'],
  ['tolerance', 'tolerance'],
])('%s is called %s', (path, words) => {
  expect(placeWords(raw, path)).toBe(words);
});

test('a sentence that names places by keys is told without them', () => {
  expect(inWords(raw, 'the flutes cut 2 mm deeper than the taper form[2] allows')).toBe(
    'the flutes cut 2 mm deeper than the taper (3rd element) allows',
  );
  expect(inWords(raw, "is missing: form[0] keeps the blank's section")).toBe(
    "is missing: the 1st element keeps the blank's section",
  );
  expect(inWords(raw, 'blank.width 40 mm or more')).toBe('the blank’s width 40 mm or more');
});

const services = (): Services => ({
  solid: () => ({ result: new Promise(() => {}), stop: () => {} }),
  fit: () => ({ result: new Promise(() => {}), stop: () => {} }),
  build: () => ({ result: new Promise(() => {}), stop: () => {} }),
  storage: memoryStorage(),
  templates: new Map(),
  now: () => 0,
  newId: () => 'one',
  later: () => () => {},
});

test.each([
  [
    'a number out of limits',
    (d: Raw) => ((d.form as Raw[])[1]!.length = -3),
    'form',
    /^2nd element, bead: length: -3 mm/,
  ],
  ['an unknown kind', (d: Raw) => ((d.form as Raw[])[0]!.element = 'bobbin'), 'form', /^1st element/],
  ['a carving too deep', (d: Raw) => ((d.carvings as Raw[])[0]!.depth = 11), 'carving', /^1st carving, flutes/],
  ['a width that is no number', (d: Raw) => (d.blank = { width: 'wide' }), 'blank', /^Blank: width: "wide"/],
])('%s: its step says so in labels, the others keep what they said', (_, spoil, name, said) => {
  const shop = createWorkshop(services(), raw);
  const before = new Map(shop.getState().steps.map((s) => [s.name, s.summary]));
  shop.getState().change((draft) => void spoil(draft));
  const { steps, problems } = shop.getState();
  expect(problems.some((p) => p.severity === 'refuse')).toBe(true);
  const step = steps.find((s) => s.name === name)!;
  expect(step.state).toBe('stopped');
  expect(step.todo).toMatch(said);
  for (const s of steps) {
    expect(`${s.summary} ${s.todo}`, s.name).not.toMatch(/\w\[\d|\b(form|blank|carvings|holding)\./);
    if (!['take-away', 'carving'].includes(s.name)) expect(s.summary, s.name).toBe(before.get(s.name));
  }
});

test('every label of the document is words, so that a place made of them can be read', () => {
  for (const p of Object.keys(partSchema.shape)) expect(placeWords(raw, p), p).not.toMatch(/^[$_]|[a-z][A-Z]/);
  expect(problemWords(raw, { code: 'wrong-shape', path: 'blank.width', message: 'is missing' })).toBe(
    'Blank: width: is missing',
  );
});

test('while the hand moves it is asked again and again whether it holds, one question at a time, and the strip follows', async () => {
  const asked: { width: number; answer: (r: FitResult) => void }[] = [];
  let timers: (() => void)[] = [];
  const world: Services = {
    ...services(),
    fit: (r) => {
      const width = Number((r.blank as Raw).width);
      const result = new Promise<FitResult>((answer) => asked.push({ width, answer }));
      return { result, stop: () => {} };
    },
    later: (_, run) => {
      timers.push(run);
      return () => {
        timers = timers.filter((t) => t !== run);
      };
    },
  };
  const rest = () => {
    for (const run of timers.splice(0)) run();
  };
  const shop = createWorkshop(world, { ...raw, blank: { section: 'square', width: 40 } });
  const strength = () => shop.getState().steps.find((s) => s.name === 'strength')!;
  expect(strength()).toMatchObject({ state: 'waiting', todo: 'Being worked out' });
  const { job } = shop.getState();
  const told = (give: number): FitResult => ({
    problems: [],
    strength: { ...strengthOf(job!), worstDeflection: give, safetyFactor: 12.4 },
  });
  rest();
  for (const width of [41, 42, 43]) shop.getState().edit(['blank', 'width'], width, 'drag');
  rest();
  expect(asked.map((a) => a.width)).toEqual([40]);
  asked[0]!.answer(told(0.2));
  await Promise.resolve();
  await Promise.resolve();
  expect(strength()).toMatchObject({ state: 'done', summary: 'gives 0.2 mm, holds 12 times' });
  rest();
  expect(asked.map((a) => a.width)).toEqual([40, 43]);
  asked[1]!.answer({
    ...told(0.5),
    problems: [{ code: 'bends', severity: 'warn', path: 'form', message: 'the part gives 0.50 mm' }],
  });
  await Promise.resolve();
  await Promise.resolve();
  expect(strength()).toMatchObject({ state: 'attention', summary: 'gives 0.5 mm, holds 12 times' });
  expect(strength().todo).toBe('The part gives 0.50 mm');
  rest();
  expect(asked.length).toBe(2);
});

test('with a form that fits nothing, what hangs on it waits instead of standing there as done', async () => {
  let answer: (r: FitResult) => void = () => {};
  const world: Services = {
    ...services(),
    fit: () => ({ result: new Promise<FitResult>((a) => (answer = a)), stop: () => {} }),
    later: (_, run) => {
      run();
      return () => {};
    },
  };
  const shop = createWorkshop(world, { ...raw, blank: { section: 'square', width: 40 } });
  const step = (name: string) => shop.getState().steps.find((s) => s.name === name)!;
  answer({ problems: [], strength: strengthOf(shop.getState().job!) });
  await Promise.resolve();
  await Promise.resolve();
  expect(step('strength').state).toBe('done');
  expect(mendWords(shop.getState().steps)).toBe('');
  // 40 + 8 mm of fixed elements leave the taper nothing.
  shop.getState().edit(['length'], 41);
  expect(shop.getState().job).toBeUndefined();
  expect(step('form').state).toBe('stopped');
  for (const name of ['blank', 'strength', 'cutting', 'proof', 'take-away'])
    expect(step(name), name).toMatchObject({ state: 'waiting', todo: 'First mend the form' });
  expect(mendWords(shop.getState().steps)).toBe('First mend the form');
  // A carving takes nothing from the blank.
  shop.getState().undo();
  shop.getState().edit(['carvings', 0, 'depth'], 11);
  expect(step('strength')).toMatchObject({ state: 'waiting', todo: 'First mend the carving' });
  expect(step('blank').state).toBe('done');
  expect(mendWords(shop.getState().steps)).toBe('First mend the carving');
});

test.each([
  [0.004, 'mm', 'under 0.01 mm'],
  [0.004, 'inch', 'under 0.0004 in'],
  [0.2, 'mm', '0.2 mm'],
  // 0.011 mm / 25.4 = 0.000433 in; 0.2 mm / 25.4 = 0.00787 in
  [0.011, 'inch', '0.0004 in'],
  [0.2, 'inch', '0.0079 in'],
] as const)('a give of %d mm is told in %s as %s', (mm, shown, said) => {
  expect(giveText(mm, shown)).toBe(said);
});

test('lengths on the strip follow the unit that the person reads', () => {
  const shop = createWorkshop(services(), {
    name: 'Post',
    form: [{ element: 'cylinder', length: 100, start: 30 }],
    blank: { section: 'square', width: 38.1, length: 190.5, material: 'sugar-maple' },
  });
  const blank = () => shop.getState().steps.find((s) => s.name === 'blank')?.summary;
  expect(blank()).toMatch(/^38\.1 square, 190\.5 long, /);
  shop.getState().set({ shownUnits: 'inch' });
  // 38.1 mm = 1 1/2 in, 190.5 mm = 7 1/2 in
  expect(blank()).toMatch(/^1\.5 square, 7\.5 long, /);
});

test('a form that grows out of its blank is still shown in that blank', () => {
  const shop = createWorkshop(services(), {
    name: 'Post',
    form: [{ element: 'cylinder', length: 100, start: 30 }],
    blank: { section: 'square', width: 38 },
  });
  shop.getState().edit(['form', 0, 'start'], 60);
  expect(shop.getState().job).toBeUndefined();
  expect(shop.getState().lastGood?.field.maxRadius).toBe(30);
  expect(shop.getState().lastGood?.job?.blank.width).toBe(38);
});

test('the strip offers the least change that mends a step: one click makes it, one undo takes it back', () => {
  const thin: Raw = {
    units: 'inch',
    form: [{ element: 'cylinder', length: 2, start: 1 }],
    blank: { section: 'square', width: 0.75 },
  };
  const shop = createWorkshop(services(), thin);
  const stopped = () => shop.getState().steps.filter((s) => s.state === 'stopped');
  const { mend } = stopped()[0]!;
  // 1 in of form: 25.4 mm, in the document's own inches, rounded up to a tenth of a millimetre.
  expect(mend!.set).toEqual([{ path: 'blank.width', value: expect.closeTo(1.0, 2) }]);
  shop.getState().mend(mend!);
  expect(stopped()).toEqual([]);
  shop.getState().undo();
  expect(shop.getState().raw).toEqual(thin);
});

test('under the strip stands what comes next: the selected step if it asks, else what stops, else the proof', () => {
  const shop = createWorkshop(services(), raw);
  const told = () => toldStep(shop.getState().steps, shop.getState().selection);
  expect(told()).toMatchObject({ name: 'proof', proves: true });
  shop.getState().select({ kind: 'step', step: 'cutting' });
  expect(told()).toMatchObject({ name: 'cutting', proves: true });
  shop.getState().edit(['form', 1, 'length'], -3);
  expect(told()).toMatchObject({ name: 'form', state: 'stopped' });
  const waits = shop.getState().steps.filter((s) => s.state === 'waiting' && /^First/.test(s.todo));
  expect(waits.map((s) => s.name)).toEqual(['blank', 'cutting', 'strength', 'proof', 'take-away']);
  expect(waits.map((s) => s.todo)).toEqual(Array(5).fill('First mend the form'));
});
