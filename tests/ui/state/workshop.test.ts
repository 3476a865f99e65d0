import { expect, test } from 'vitest';
import type { BuildResult, FitResult, Raw, SolidResult } from '../../../src/ui/state/contract.ts';
import { memoryStorage } from '../../../src/ui/state/storage.ts';
import { proveUnasked } from '../../../src/ui/state/unasked.ts';
import { createWorkshop, type Services } from '../../../src/ui/state/workshop.ts';

/** A world whose clock and workers the test drives by hand. */
function world(fit: () => Promise<FitResult> = () => new Promise(() => {})) {
  const timers: { run: () => void; off: boolean }[] = [];
  const builds: { raw: Raw; stopped: boolean; finish: (r: BuildResult) => void; tell: (share: number) => void }[] = [];
  let ids = 0;
  const services: Services = {
    solid: () => ({ result: new Promise<SolidResult>(() => {}), stop: () => {} }),
    fit: () => ({ result: fit(), stop: () => {} }),
    build: (raw, onProgress) => {
      const it = {
        raw,
        stopped: false,
        finish: (_: BuildResult) => {},
        tell: (share: number) => onProgress(share, 'planning'),
      };
      builds.push(it);
      return {
        result: new Promise((resolve) => {
          it.finish = resolve;
        }),
        stop: () => {
          it.stopped = true;
        },
      };
    },
    storage: memoryStorage(),
    templates: new Map([
      ['peg', JSON.stringify({ name: 'Peg', form: [{ element: 'cylinder', length: 40, start: 12 }] })],
    ]),
    now: () => 1000,
    newId: () => `doc-${++ids}`,
    later: (_ms, run) => {
      const timer = { run, off: false };
      timers.push(timer);
      return () => {
        timer.off = true;
      };
    },
  };
  const rest = () => {
    for (const t of timers.splice(0)) if (!t.off) t.run();
  };
  return { services, builds, rest };
}

const lengthOf = (raw: Raw) => (raw.form as { length: number }[])[0]!.length;

test('a drag of many edits is one step of undo, and fifty steps come back one by one', () => {
  const { services } = world();
  const shop = createWorkshop(services);
  for (let step = 0; step < 50; step++) {
    for (let i = 1; i <= 10; i++) shop.getState().edit(['form', 0, 'length'], 100 + step + i / 10, 'drag');
    shop.getState().settle();
  }
  expect(shop.getState().undoDepth).toBe(50);
  expect(lengthOf(shop.getState().raw)).toBe(150);
  for (let step = 49; step >= 0; step--) {
    shop.getState().undo();
    expect(lengthOf(shop.getState().raw)).toBe(100 + step);
  }
  shop.getState().undo();
  expect(lengthOf(shop.getState().raw)).toBe(100);
  for (let step = 0; step < 50; step++) shop.getState().redo();
  expect(lengthOf(shop.getState().raw)).toBe(150);
  expect(shop.getState().field?.length).toBe(150);
});

test('a wrong edit keeps the last good form on show and says what is wrong, with its path', () => {
  const { services } = world();
  const shop = createWorkshop(services);
  const good = shop.getState().lastGood;
  shop.getState().edit(['form', 0, 'length'], -4);
  expect(shop.getState().field).toBeUndefined();
  expect(shop.getState().lastGood).toBe(good);
  expect(shop.getState().problems[0]?.path).toBe('form[0].length');
  expect(shop.getState().steps.find((s) => s.name === 'form')?.state).toBe('stopped');
});

test('an edit drops the running proof, and its late answer is not shown', async () => {
  const { services, builds } = world();
  const shop = createWorkshop(services);
  shop.getState().prove();
  builds[0]!.tell(0.4);
  expect(shop.getState().build).toMatchObject({ status: 'working', share: 0.4 });
  shop.getState().edit(['form', 0, 'length'], 90);
  expect(builds[0]!.stopped).toBe(true);
  builds[0]!.finish({} as BuildResult);
  await Promise.resolve();
  expect(shop.getState().build.status).toBe('none');
});

const answered = () => new Promise((resolve) => setImmediate(resolve));

test('a document that comes back to what was proven is proven again, whichever way it came back', async () => {
  const { services, builds } = world();
  const shop = createWorkshop({ ...services, templates: new Map([['peg', pegText]]) });
  shop.getState().prove();
  const result = { verdict: 'proven', programs: [], findings: [], problems: [], time_s: 60 } as unknown as BuildResult;
  builds[0]!.finish(result);
  await answered();
  const { serial } = shop.getState();
  const isProven = () => {
    const { build, steps, serial: now } = shop.getState();
    expect(steps.find((s) => s.name === 'take-away')?.state === 'done').toBe(
      build.status === 'ready' && build.serial === now,
    );
    return build.status === 'ready' && build.serial === now && build.value === result;
  };
  expect(isProven()).toBe(true);
  const { undo, redo, edit, change } = shop.getState();
  edit(['form', 0, 'length'], 90);
  expect(isProven()).toBe(false);
  const changed = shop.getState().serial;
  undo();
  expect(isProven()).toBe(true);
  // What asks by the serial, as the player does, knows it again.
  expect(shop.getState().serial).toBe(serial);
  redo();
  expect(isProven()).toBe(false);
  // Another text never gets a number that was given before.
  expect(shop.getState().serial).toBeGreaterThan(changed);
  edit(['form', 0, 'length'], 100);
  expect(isProven()).toBe(true);
  // A group taken out and put in again stands last in the document, which says the same.
  const { form } = shop.getState().raw;
  edit(['form'], undefined);
  expect(isProven()).toBe(false);
  change((draft) => {
    draft.form = form;
  });
  expect(Object.keys(shop.getState().raw).at(-1)).toBe('form');
  expect(isProven()).toBe(true);
  // A proof that is dropped half way does not take the one that is there.
  edit(['form', 0, 'length'], 91);
  shop.getState().prove();
  undo();
  expect(builds[1]!.stopped).toBe(true);
  expect(isProven()).toBe(true);
  shop.getState().prove();
  shop.getState().stop();
  expect(isProven()).toBe(true);
  // Only the last proof counts, and it belongs to the part that was on the bench.
  redo();
  shop.getState().prove();
  builds[3]!.finish({ ...result, time_s: 61 });
  await answered();
  undo();
  expect(isProven()).toBe(false);
  shop.getState().openTemplate('peg');
  expect(shop.getState().build.status).toBe('none');
});

test('what was typed is there again after the page was lost, its undo steps with it', async () => {
  const { services, rest } = world();
  const shop = createWorkshop(services);
  const id = shop.getState().id;
  shop.getState().edit(['form', 0, 'length'], 77);
  rest();
  await shop.flush();
  const again = createWorkshop(services);
  await again.getState().openStored(id);
  expect(lengthOf(again.getState().raw)).toBe(77);
  again.getState().undo();
  expect(lengthOf(again.getState().raw)).toBe(100);
});

test('a file is kept from the moment it is opened, each of several; a sample only once it is changed', async () => {
  const { services, rest } = world();
  const shop = createWorkshop(services);
  const names = async () => (await services.storage.list()).map((d) => d.name).sort();
  const file = (name: string) => JSON.stringify({ name, form: [{ element: 'cylinder', length: 40, start: 12 }] });
  shop.getState().openText(file('First'), 'first.part.json');
  shop.getState().openText(file('Second'), 'second.part.json');
  rest();
  await shop.flush();
  expect(await names()).toEqual(['First', 'Second']);
  shop.getState().openTemplate('peg');
  rest();
  await shop.flush();
  expect(await names()).toEqual(['First', 'Second']);
  shop.getState().edit(['form', 0, 'length'], 41);
  shop.getState().openTemplate('peg');
  rest();
  await shop.flush();
  expect(await names()).toEqual(['First', 'Peg', 'Second']);
});

test('a plain stick to begin with comes onto the bench as a sample does', async () => {
  const { services, rest } = world();
  const shop = createWorkshop({ ...services, templates: new Map([['peg', pegText]]) }, JSON.parse(pegText) as Raw);
  const before = shop.getState().id;
  shop.getState().openPlain();
  expect(shop.getState()).toMatchObject({ undoDepth: 0, raw: { form: [{ element: 'cylinder' }] } });
  expect(shop.getState().id).not.toBe(before);
  rest();
  await shop.flush();
  expect(await services.storage.list()).toEqual([]);
  shop.getState().edit(['form', 0, 'length'], 41);
  await shop.flush();
  expect((await services.storage.list()).length).toBe(1);
});

test('a sample that is worth keeping is kept unchanged', async () => {
  const { services, rest } = world();
  const shop = createWorkshop(services);
  shop.getState().openTemplate('peg');
  rest();
  await shop.flush();
  expect(await services.storage.list()).toEqual([]);
  await shop.getState().keep();
  expect((await services.storage.list()).map((d) => d.name)).toEqual(['Peg']);
});

test('text that is no part document is refused with one sentence and changes nothing', () => {
  const { services } = world();
  const shop = createWorkshop(services);
  const before = shop.getState().raw;
  shop.getState().openText('{ "form": [', 'broken.part.json');
  expect(shop.getState().notice).toContain('broken.part.json');
  shop.getState().openText('{ "form": [], "colour": 3 }', 'odd.part.json');
  expect(shop.getState().notice).toMatch(/odd\.part\.json cannot be opened: /);
  expect(shop.getState().raw).toBe(before);
  shop.getState().openTemplate('peg');
  expect(shop.getState().raw.name).toBe('Peg');
});

const fits = (...problems: unknown[]) =>
  ({ problems, strength: { worstDeflection: 0, safetyFactor: 9 } }) as unknown as FitResult;
const settleAll = async (rest: () => void) => {
  for (let i = 0; i < 4; i++) {
    rest();
    await new Promise((resolve) => setImmediate(resolve));
  }
};
const pegText = JSON.stringify({
  name: 'Peg',
  form: [{ element: 'cylinder', length: 40, start: 12 }],
  blank: { section: 'square', width: 20 },
});

test('what is on the bench and what is opened proves itself once, an edit never, nor what does not fit', async () => {
  let answer = fits();
  const { services, builds, rest } = world(async () => answer);
  const shop = createWorkshop({ ...services, templates: new Map([['peg', pegText]]) });
  proveUnasked(shop, services.later);
  await settleAll(rest);
  expect(builds.length).toBe(1);
  shop.getState().openTemplate('peg');
  await settleAll(rest);
  expect(builds.length).toBe(2);
  shop.getState().edit(['form', 0, 'length'], 39);
  await settleAll(rest);
  expect(builds.length).toBe(2);
  // Changed before it has come to it.
  shop.getState().openTemplate('peg');
  shop.getState().edit(['form', 0, 'length'], 38);
  await settleAll(rest);
  expect(builds.length).toBe(2);
  answer = fits({ path: 'blank', severity: 'refuse', code: 'fit', message: 'no' });
  shop.getState().openText(pegText);
  await settleAll(rest);
  expect(shop.getState().job).toBeDefined();
  expect(builds.length).toBe(2);
});
