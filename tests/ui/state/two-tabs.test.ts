import { expect, test } from 'vitest';
import type { Raw } from '../../../src/ui/state/contract.ts';
import { memoryStorage } from '../../../src/ui/state/storage.ts';
import { createWorkshop, type Services } from '../../../src/ui/state/workshop.ts';

/** Tabs of one browser: each a store of its own, the storage is one. */
function browser() {
  const storage = memoryStorage();
  let ids = 0;
  const never = () => ({ result: new Promise<never>(() => {}), stop: () => {} });
  const services: Services = {
    solid: never,
    fit: never,
    build: never,
    storage,
    templates: new Map(),
    now: () => 1000,
    newId: () => `doc-${++ids}`,
    // Nothing is stored but by `flush`.
    later: () => () => {},
  };
  const tab = async (id: string) => {
    const shop = createWorkshop(services);
    await shop.getState().openStored(id);
    return shop;
  };
  return { services, storage, tab };
}
const lengthOf = (raw: Raw) => (raw.form as { length: number }[])[0]!.length;
const cut = (shop: { getState(): { edit(path: (string | number)[], value: unknown): void } }, length: number) =>
  shop.getState().edit(['form', 0, 'length'], length);

/** A browser with one stored part of length 90. */
async function stored() {
  const it = browser();
  const first = createWorkshop(it.services);
  cut(first, 90);
  await first.flush();
  return { ...it, id: first.getState().id };
}

test('what two tabs make of one part is kept twice, with its steps, and the second is told', async () => {
  const { storage, tab, id } = await stored();
  await storage.lines.saveRows(id, { rows: [{ name: 'a', quantity: '1', cells: {} }], columns: [] });
  const [a, b] = [await tab(id), await tab(id)];
  cut(a, 33);
  await a.flush();
  cut(b, 77);
  await b.flush();
  expect(a.getState()).toMatchObject({ id, saved: true, notice: '' });
  expect(b.getState().notice).toMatch(/also changed in another tab.*part of its own/);
  const own = b.getState().id;
  expect(own).not.toBe(id);
  expect(
    b
      .getState()
      .drawer.map((d) => d.id)
      .sort(),
  ).toEqual([id, own].sort());
  expect(lengthOf((await storage.load(id))!.raw)).toBe(33);
  expect(lengthOf((await storage.load(own))!.raw)).toBe(77);
  expect(await storage.lines.rows(own)).toEqual(await storage.lines.rows(id));
  // From then on both go on undisturbed, and each has its own way back.
  cut(b, 78);
  await b.flush();
  cut(a, 34);
  await a.flush();
  expect(b.getState().id).toBe(own);
  expect((await storage.list()).length).toBe(2);
  for (const [place, lengths] of [
    [id, [34, 33, 90, 100]],
    [own, [78, 77, 90, 100]],
  ] as const) {
    const again = await tab(place);
    for (const [i, length] of lengths.entries()) {
      if (i) again.getState().undo();
      expect(lengthOf(again.getState().raw)).toBe(length);
    }
  }
});

test('a tab that only looks disturbs nobody, and opened again it shows what the other made', async () => {
  const { storage, tab, id } = await stored();
  const a = await tab(id);
  const b = await tab(id);
  cut(a, 33);
  await a.flush();
  await b.getState().openStored(id);
  expect(lengthOf(b.getState().raw)).toBe(33);
  cut(b, 34);
  await b.flush();
  expect([a, b].map((t) => t.getState().notice)).toEqual(['', '']);
  expect((await storage.list()).length).toBe(1);
});

test('an undo alone is a change too: it takes no steps away from the other tab', async () => {
  const { storage, tab, id } = await stored();
  const [a, b] = [await tab(id), await tab(id)];
  cut(a, 33);
  await a.flush();
  b.getState().undo();
  await b.flush();
  expect((await storage.load(id))!.done.length).toBe(2);
  expect(await storage.load(b.getState().id)).toMatchObject({ done: [], undone: [{}] });
});

test('a part that leaves the bench overtaken is kept as well; what comes after it keeps its place', async () => {
  const { storage, tab, id } = await stored();
  const [a, b] = [await tab(id), await tab(id)];
  cut(a, 33);
  await a.flush();
  cut(b, 77);
  b.getState().openText(JSON.stringify({ name: 'Next', form: [{ element: 'cylinder', length: 40, start: 12 }] }));
  const next = b.getState().id;
  await b.flush();
  expect(b.getState().id).toBe(next);
  const lengths = await Promise.all((await storage.list()).map(async (d) => lengthOf((await storage.load(d.id))!.raw)));
  expect(lengths.sort((x, y) => x - y)).toEqual([33, 40, 77]);
});

test('two writings of one tab, the second asked for before the first is done, are no quarrel', async () => {
  const { storage, tab, id } = await stored();
  const a = await tab(id);
  cut(a, 33);
  const first = a.flush();
  cut(a, 34);
  await Promise.all([first, a.flush()]);
  expect(a.getState()).toMatchObject({ id, notice: '' });
  expect(lengthOf((await storage.load(id))!.raw)).toBe(34);
});

test('a part thrown away in another tab is written again by the tab that still works on it', async () => {
  const { storage, tab, id } = await stored();
  const a = await tab(id);
  await storage.remove(id);
  cut(a, 33);
  await a.flush();
  expect(a.getState()).toMatchObject({ id, notice: '' });
  expect(lengthOf((await storage.load(id))!.raw)).toBe(33);
});
