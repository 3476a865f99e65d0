/** `batch --stock`: the pieces of a line on sticks, each stick made and proven as the variants are. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import Papa from 'papaparse';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { cavetto, type Ran, scratch } from '../support/command.ts';

const at = scratch();
afterAll(() => at.remove());
/** Small and coarse, so that a run takes a moment. */
const peg = at.file('peg.part.json', {
  name: 'Dowel peg',
  length: 16,
  form: [{ element: 'cylinder', share: 1, start: 16 }],
  blank: { section: 'square', width: 20 },
  plan: { scallop: 0.1 },
});
const table = at.file('pegs.csv', 'name,quantity,length\nPeg A,3,16\nStick 1,1,12\n');
const line = (out: string, ...more: string[]) => ['batch', peg, '--table', table, '--out', out, ...more];
const read = (...path: string[]) => readFileSync(join(...path), 'utf8');

describe('a line on sticks', () => {
  const out = `${at.dir}/line`;
  let ran: Ran;
  let rows: Record<string, string>[];
  beforeAll(async () => {
    ran = await cavetto(line(out, '--stock', '120x2', '--most', '3', '--workers', '2'));
    rows = Papa.parse<Record<string, string>>(read(out, 'cut-list.csv'), { header: true, skipEmptyLines: true }).data;
  });

  test('has each piece in its cut list as often as the table asks, and a proven program set for each stick', () => {
    expect(ran.code, ran.err + ran.out).toBe(0);
    const times = (slug: string) => rows.filter((r) => r.slug === slug).reduce((sum, r) => sum + Number(r.times), 0);
    expect([times('peg-a'), times('stick-1')]).toEqual([3, 1]);
    const sticks = [...new Set(rows.map((r) => r.stick!.toLowerCase().replaceAll(' ', '-')))];
    // A variant has taken the name that the first stick would have had.
    expect(sticks).not.toContain('stick-1');
    for (const stick of sticks) {
      const report = JSON.parse(read(out, stick, `${stick}.report.json`));
      expect(report.proof.verdict).toBe('proven');
      expect(readdirSync(join(out, stick)).filter((f) => f.endsWith('.nc')).length).toBeGreaterThan(0);
    }
    expect(ran.err).toMatch(
      /^sticks {4}square 20, sugar-maple: 0\.\d+ m of stock for 0\.06 m of pieces, the least there is/m,
    );
  });

  test('runs sticks, sells pieces, and leads from its first page to every list', () => {
    const runs = Papa.parse<Record<string, string>>(read(out, 'run-list.csv'), {
      header: true,
      skipEmptyLines: true,
    }).data;
    expect(runs.reduce((sum, r) => sum + Number(r.pieces), 0)).toBe(4);
    for (const r of runs) expect(Number(r.machine_min)).toBeGreaterThan(0);
    const prices = read(out, 'price-list.csv');
    expect(prices).toContain('Peg A');
    expect(prices).not.toContain('Nested stick');
    for (const file of ['cut-list.html', 'cut-list.csv', 'run-list.html', 'run-list.csv'])
      expect(read(out, 'index.html')).toContain(`href="${file}"`);
    const listed = JSON.parse(read(out, 'manifest.json')).files.map((f: { file: string }) => f.file);
    expect(listed).toEqual(expect.arrayContaining(['cut-list.csv', 'cut-list.html', 'run-list.csv', 'run-list.html']));
  });
});

test('what finds no place is told and ends the run with 3', async () => {
  const short = await cavetto(line(`${at.dir}/short`, '--stock', '60', '--quiet'));
  expect(short.code).toBe(3);
  expect(short.err).toMatch(/^peg-a: 3 not on a stick: no stick on the rack holds its 16\.0 mm/m);
});

test('a rack is a table: its stock does for its own wood and section alone, and its faults have line and column', async () => {
  const rack = at.file('rack.csv', 'name;length;quantity;material;section\nOak;120,5;2;white-oak;square 20\n');
  const other = await cavetto(line(`${at.dir}/rack`, '--rack', rack, '--quiet'));
  expect(other.code).toBe(3);
  expect(other.err).toMatch(/^peg-a: 3 not on a stick: /m);
  const maple = at.file(
    'maple.csv',
    'name,length,material,section\nMaple,120,sugar-maple,square 20\nFlat,120,,rectangle 20 x 9',
  );
  const fits = await cavetto(line(`${at.dir}/rack`, '--rack', maple, '--merge', `${at.dir}/line`));
  expect(fits.code, fits.err).toBe(0);
  expect(read(`${at.dir}/rack`, 'cut-list.csv')).toMatch(/Maple/);
  expect(read(`${at.dir}/rack`, 'cut-list.csv')).not.toMatch(/Flat/);
  const bad = at.file('bad.csv', 'name,length\nMaple,long\n');
  const said = await cavetto(line(`${at.dir}/bad`, '--rack', bad));
  expect(said.code).toBe(2);
  expect(said.err).toMatch(/bad\.csv: line 2, column 2 \(length\): "long" is no length of stock/);
});

test('lengths that are none are told before anything is made', async () => {
  for (const wrong of [
    ['--stock', 'long'],
    ['--stock', '900x0'],
    ['--stock', '900', '--most', '0'],
  ]) {
    const said = await cavetto(line(`${at.dir}/none`, ...wrong));
    expect(said.code, wrong.join(' ')).toBe(2);
  }
});
