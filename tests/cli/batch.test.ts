import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { cavetto, type Ran, scratch } from '../support/command.ts';
import { finished, mtimes, recordsIn, tree } from '../support/tree.ts';

const at = scratch();
afterAll(() => at.remove());
/** Small and coarse, so that a run takes a moment. */
const peg = {
  name: 'Dowel peg',
  length: 16,
  form: [{ element: 'cylinder', share: 1, start: 16 }],
  blank: { section: 'square', width: 20 },
  plan: { scallop: 0.1 },
  knobs: [{ id: 'length', label: 'length', sets: ['length'], min: 12, max: 30 }],
};
const part = at.file('peg.part.json', peg);
const table = at.file(
  'pegs.csv',
  'name,quantity,length,material,blank\nPeg A,40,16,white-oak,\nPeg B,5,17.5,beech,round 22\n"=Peg C, ""short""",1,14,,\nPeg D,8,15,,\n',
);
const slugs = ['peg-a', 'peg-b', 'peg-c-short', 'peg-d'];
const line = (out: string, ...more: string[]) => [
  'batch',
  part,
  '--table',
  table,
  '--out',
  out,
  '--workers',
  '2',
  ...more,
];

const whole = `${at.dir}/whole`;
let ran: Ran;
beforeAll(async () => {
  ran = await cavetto(line(whole));
});

describe('a line', () => {
  test('is made variant by variant, each folder as `make` writes it', async () => {
    expect(ran.code, ran.err + ran.out).toBe(0);
    for (const slug of slugs) expect(readdirSync(join(whole, slug))).toContain(`${slug}.report.json`);
    const one = at.file('one.part.json', {
      ...peg,
      name: 'Peg B',
      length: 17.5,
      blank: { section: 'round', width: 22, material: 'beech' },
    });
    expect((await cavetto(['make', one, '--out', `${at.dir}/one`, '--quiet'])).code).toBe(0);
    expect(tree(`${at.dir}/one/peg-b`)).toEqual(tree(join(whole, 'peg-b')));
  });

  test('tells progress, an estimate, the time of each variant and the speed-up', () => {
    expect(ran.err).toMatch(/^1 of 4: .*, made in \d+ s, about \d+ s left$/m);
    expect(ran.err).toMatch(/^4 of 4: .*, made in \d+ s$/m);
    expect(ran.out).toMatch(/^Peg A +40 {2}proven +made in \d+\.\d s +\d+ min \d\d s at the bench$/m);
    expect(ran.out).toMatch(/^line {6}4 variants: 4 proven, 0 refused, 0 not made$/m);
    expect(ran.out).toMatch(/^time {6}\d+ s with 2 workers, \d+\.\d s a variant$/m);
    expect(ran.out).toMatch(
      /^speed-up {2}\d\.\d\d over one worker with a processor to itself: \d+ s of processor time in \d+ s$/m,
    );
  });

  test('has a manifest that tells every file and its hash, and no time', () => {
    const manifest = JSON.parse(readFileSync(join(whole, 'manifest.json'), 'utf8'));
    expect(manifest.line).toBe('Dowel peg');
    expect(manifest.variants.map((v: { folder: string; quantity: number }) => [v.folder, v.quantity])).toEqual([
      ['peg-a', 40],
      ['peg-b', 5],
      ['peg-c-short', 1],
      ['peg-d', 8],
    ]);
    const goods = ['catalogue.html', 'index.html', 'labels.html', 'price-list.csv', 'price-list.html'];
    const lists = ['cut-list.csv', 'cut-list.html', 'run-list.csv', 'run-list.html', ...goods].sort();
    expect(manifest.files.map((f: { file: string }) => f.file).sort()).toEqual(lists);
    expect(readdirSync(whole).sort()).toEqual([...lists, ...slugs, 'made', 'manifest.json'].sort());
    for (const v of manifest.variants)
      expect(v.files.map((f: { file: string }) => f.file).sort()).toEqual(readdirSync(join(whole, v.folder)).sort());
    expect(readFileSync(join(whole, 'manifest.json'), 'utf8')).not.toMatch(/\d\d:\d\d/);
  });

  test('is not made again where it stands unchanged; what was touched is', async () => {
    const before = tree(whole);
    const stood = mtimes(whole, finished(whole));
    const again = await cavetto(line(whole));
    expect(again.out).toMatch(/^made {6}0 now, 4 taken over unchanged$/m);
    expect(mtimes(whole, stood.keys())).toEqual(stood);
    writeFileSync(join(whole, 'peg-d', 'peg-d.stl'), 'someone was here');
    rmSync(join(whole, 'peg-a', 'peg-a.3mf'));
    const mended = await cavetto(line(whole));
    expect(mended.out).toMatch(/^made {6}2 now, 2 taken over unchanged$/m);
    expect(tree(whole)).toEqual(before);
    const untouched = [...stood].filter(([f]) => /peg-[bc]/.test(f));
    expect(untouched.length).toBeGreaterThan(10);
    expect(
      mtimes(
        whole,
        untouched.map(([f]) => f),
      ),
    ).toEqual(new Map(untouched));
  });
});

test('a row that is changed is made anew, the others are taken over', async () => {
  const rows = at.file('changed.csv', readFileSync(table, 'utf8').replace('Peg D,8,15', 'Peg D,9,15.5'));
  const out = `${at.dir}/changed`;
  const said = await cavetto(['batch', part, '--table', rows, '--out', out, '--merge', whole]);
  expect(said.code, said.err).toBe(0);
  expect(said.out).toMatch(/^made {6}1 now, 3 taken over unchanged$/m);
  const [a, b] = [tree(whole), tree(out)];
  const changed = [...b.keys()].filter((f) => a.get(f) !== b.get(f));
  expect(changed.filter((f) => /peg-[abc]/.test(f))).toEqual([]);
  expect(changed).toContain('peg-d/peg-d.stl');
  // Back again: what stands in the folder itself is not of these rows either.
  expect((await cavetto(line(out, '--merge', whole))).out).toMatch(/^made {6}0 now, 4 taken over unchanged$/m);
  expect(tree(out)).toEqual(a);
});

describe('a run that ends early', () => {
  const out = `${at.dir}/killed`;

  test('by a signal keeps what is done; by kill -9 leaves whole files only; the next goes on to the same bytes', async () => {
    const stopped = await cavetto(line(out), {}, { signal: 'SIGTERM', when: () => recordsIn(out).length >= 1 });
    // 128 + 15: as shells tell a run that SIGTERM ended (POSIX.1-2017, Shell Command Language, 2.8.2, and common practice).
    expect(stopped.code, stopped.err).toBe(143);
    expect(stopped.err).toMatch(/^stopped: [1-3] of 4 are made and kept/m);
    expect(existsSync(join(out, 'manifest.json'))).toBe(false);
    expect(readdirSync(out).filter((f) => f.startsWith('.'))).toEqual([]);

    const first = mtimes(out, finished(out));
    const had = recordsIn(out).length;
    const killed = await cavetto(line(out), {}, { signal: 'SIGKILL', when: () => recordsIn(out).length > had });
    expect(killed.code).toBe(null);
    // Whatever stands under its own name is whole: the same bytes as in the run that nobody disturbed.
    const right = tree(whole);
    for (const [f, bytes] of tree(out)) if (!f.startsWith('.')) expect(bytes === right.get(f), f).toBe(true);
    expect(existsSync(join(out, 'manifest.json'))).toBe(false);

    const kept = mtimes(out, finished(out));
    for (const [f, t] of first) expect(kept.get(f), f).toBe(t);
    const last = await cavetto(line(out));
    expect(last.code, last.err).toBe(0);
    expect(mtimes(out, kept.keys())).toEqual(kept);
    expect(tree(out)).toEqual(right);
  });

  test('what a killed run was still writing is taken away', async () => {
    mkdirSync(join(out, '.peg-a.part-4194303'));
    writeFileSync(join(out, '.peg-a.part-4194303', 'half.stl'), 'half');
    writeFileSync(join(out, 'made', '.peg-a-json.part-4194303'), '{"half');
    mkdirSync(join(out, '.git'));
    await cavetto(line(out, '--quiet'));
    rmSync(join(out, '.git'), { recursive: true });
    expect(tree(out)).toEqual(tree(whole));
  });
});

test('shards are put together to what one machine would have made', async () => {
  const [a, b, out] = ['a', 'b', 'merged'].map((n) => `${at.dir}/shards/${n}`) as [string, string, string];
  // The shards take over from the whole line: what is made of them is not the point here.
  const shard = (i: number, dir: string) => cavetto(line(dir, '--shard', `${i}/2`, '--merge', whole));
  const both = await Promise.all([shard(1, a), shard(2, b)]);
  for (const s of both) expect(s.code, s.err).toBe(0);
  expect([recordsIn(a), recordsIn(b)]).toEqual([
    ['peg-a.json', 'peg-c-short.json'],
    ['peg-b.json', 'peg-d.json'],
  ]);
  expect(both[0]!.out).toMatch(/^shard {5}1 of 2/m);
  expect(existsSync(join(a, 'manifest.json'))).toBe(false);
  const merged = await cavetto(line(out, '--merge', a, b));
  expect(merged.code, merged.err).toBe(0);
  expect(merged.out).toMatch(/^made {6}0 now, 4 taken over unchanged$/m);
  expect(tree(out)).toEqual(tree(whole));
});

describe('what is wrong', () => {
  test('a variant that is refused does not stop the others, is told with its row, and leaves no program', async () => {
    const out = `${at.dir}/refused`;
    // What an earlier run made of Peg C stands there already.
    mkdirSync(join(out, 'peg-c'), { recursive: true });
    writeFileSync(join(out, 'peg-c', 'peg-c-1-flat-6.nc'), 'old');
    const rows = at.file('refused.csv', 'name,bench\nPeg C,small\nPeg D,\n');
    const args = ['batch', part, '--table', rows, '--out', out, '--merge', whole];
    const said = await cavetto(args);
    expect(said.code).toBe(3);
    expect(said.err).toMatch(/^refused: line 2, Peg C: holding: 3 jaws do not seat on 4 flats \(/m);
    expect(existsSync(join(out, 'peg-c'))).toBe(false);
    expect(existsSync(join(out, 'manifest.json'))).toBe(true);
    const again = await cavetto([...args, '--json', '--quiet']);
    expect(again).toMatchObject({ code: 3, err: '' });
    expect(JSON.parse(again.out)).toMatchObject({
      exit: 3,
      missing: 0,
      run: { made: 0 },
      variants: [{ verdict: 'refused', seconds: 0 }, { slug: 'peg-d' }],
    });
  });

  test.each<[string, string, string[], RegExp]>([
    [
      'an unknown column',
      'name,lenght\nPeg,16',
      [],
      /^.*\.csv: line 1, column 2: the column "lenght" is not known \(did you mean "length"\?\)$/m,
    ],
    [
      'a text for a number',
      'name,length\nPeg,16\nPeg B,long',
      [],
      /^.*\.csv: line 3, column 2 \(length\): "long" is no number \(12 to 30 mm\)$/m,
    ],
    [
      'a blank too small',
      'name,blank\nPeg,square 15',
      [],
      /^.*\.csv: line 2, column 2 \(blank\): form\[0\]: the cylinder stands 0\.50 mm out/m,
    ],
    [
      'an unknown bench',
      'name\nPeg',
      ['--bench', 'shed'],
      /^--bench: no bench is called "shed" \(one of small, middle, long\)$/m,
    ],
    ['a shard of none', 'name\nPeg', ['--shard', '3/2'], /a shard is such as 2\/4/],
    ['UTF-16', '\u0000', [], /: it is a text in UTF-16 \(save it as CSV in UTF-8\)$/m],
  ])('%s ends with 2 before anything is made', async (name, text, more, expected) => {
    const file = at.file(`${name.replace(/\W+/g, '-')}.csv`, text);
    if (name === 'UTF-16') writeFileSync(file, Buffer.from('\uFEFFname\nPeg', 'utf16le'));
    const out = `${at.dir}/nothing`;
    const said = await cavetto(['batch', part, '--table', file, '--out', out, ...more]);
    expect(said.code, said.err).toBe(2);
    expect(said.err).toMatch(expected);
    expect(said.err).not.toMatch(/^\s+at /m);
    expect(existsSync(out)).toBe(false);
  });

  test('a link where a variant belongs leads nowhere', async () => {
    const out = `${at.dir}/linked`;
    mkdirSync(out);
    mkdirSync(`${at.dir}/elsewhere`);
    symlinkSync(`${at.dir}/elsewhere`, join(out, 'peg-a'));
    const said = await cavetto(line(out));
    expect(said.code).toBe(2);
    expect(said.err).toMatch(/^--out: .*peg-a is a link/m);
    expect(readdirSync(`${at.dir}/elsewhere`)).toEqual([]);
  });
});
