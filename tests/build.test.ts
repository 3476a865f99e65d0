import { beforeAll, describe, expect, test } from 'vitest';
import { benches } from '../shared/catalog.ts';
import { problemLine } from '../shared/problems.ts';
import { namePrograms, UNPROVEN_LINES, unprovenText } from '../src/build/programs.ts';
import { reportSchema } from '../src/build/report.ts';
import { slugOf } from '../src/build/slug.ts';
import { type BuildOptions, type Built, build } from '../src/build.ts';
import { Stopped } from '../src/cam/proof/verdict.ts';
import { massOfMesh } from '../src/mesh/mesh.ts';
import { readStl } from '../src/mesh/stl.ts';
import { checkPart } from '../src/part.ts';

/** Small and coarse, so that a whole build takes a moment. */
const peg = {
  name: 'Peg <№ 1>',
  form: [
    { element: 'cylinder', length: 14, start: 16 },
    { element: 'bead', length: 6, start: 12 },
  ],
  blank: { section: 'square', width: 22 },
  plan: { scallop: 0.1 },
  guard: true,
  notes: 'Glue & peg\n<b>',
};
const buildOf = (raw: Record<string, unknown> = {}, options: BuildOptions = {}): Promise<Built> => {
  const result = checkPart({ ...peg, ...raw });
  if ('problems' in result) throw new Error(result.problems.map(problemLine).join('; '));
  return build(result.part, options);
};
const text = (built: Built, ending: string): string => {
  const name = [...built.files.keys()].find((f) => f.endsWith(ending));
  return name ? String(built.files.get(name)) : '';
};
/** The cutting programs; those that are only watched are numbered 0. */
const programsOf = (built: Built) => [...built.files.keys()].filter((f) => /(?<!-0-[a-z-]+)\.nc$/.test(f));

describe('a build', () => {
  let built: Built;
  beforeAll(async () => {
    built = await buildOf();
  });

  test('is proven, and gives solid, programs in run order, sheet and report, the report last', () => {
    expect(built.proof?.findings.filter((f) => f.severity === 'refuse')).toEqual([]);
    expect(built.verdict).toBe('proven');
    const names = [...built.files.keys()];
    expect(names.slice(0, 2)).toEqual(['peg-no-1.stl', 'peg-no-1.3mf']);
    expect(names.at(-1)).toBe('peg-no-1.report.json');
    expect(names.at(-2)).toBe('peg-no-1.sheet.html');
    expect(programsOf(built)).toEqual(built.programs.map((p, i) => `peg-no-1-${i + 1}-${p.tools[0]!.bit.id}.nc`));
    expect(programsOf(built).length).toBeGreaterThan(1);
  });

  test('reports in the agreed shape, and nothing but it', () => {
    const report = reportSchema.parse(JSON.parse(text(built, '.report.json')));
    expect(report.programs.map((p) => p.file)).toEqual(programsOf(built));
    expect(report.time.total_s).toBeCloseTo(
      report.programs.reduce((s, p) => s + p.time_s, 0),
      1,
    );
    expect(report.time.bound_s).toBeGreaterThan(0);
    expect(report.time.efficiency).toBeGreaterThan(0);
    expect(report.time.efficiency).toBeLessThanOrEqual(1);
    expect(report.blank).toMatchObject({ section: 'square', width: 22, height: 22, sides: 4 });
    expect(report.blank.volume).toBeCloseTo(22 * 22 * (report.blank.to - report.blank.from), 3);
    expect(report.limits.rotaryMax_deg_min).toBe(60 * 360);
    expect(report.proof.deepestGouge).toBeLessThanOrEqual(report.proof.tolerance);
    expect(report.price.unit).toBeCloseTo(report.price.material + report.price.machine + report.price.labour, 2);
    for (const p of report.programs) for (const s of p.stages) expect(s.passes).toBeGreaterThan(0);
  });

  test('the STL bounds the volume that the report tells', () => {
    const stl = readStl(built.files.get('peg-no-1.stl') as Uint8Array);
    if (!('mesh' in stl)) throw new Error('not read');
    const { volume } = massOfMesh(stl.mesh!);
    const told = built.report!.part.volume;
    expect(Math.abs(volume - told) / told).toBeLessThan(5e-4);
    // A cylinder 16 × 14 and a half-round bead r(u) = 6 + √(9 − (u−3)²): π∫r² = π(6·36 + 12·π·9/2 + 36).
    const exact = Math.PI * (64 * 14 + 216 + 12 * ((Math.PI * 9) / 2) + 36);
    expect(Math.abs(told - exact) / exact).toBeLessThan(5e-4);
  });

  test('the sheet carries stock, zeros, bits, cautions and the local-code note, and nothing from outside', () => {
    const sheet = text(built, '.sheet.html');
    expect(sheet).toMatch(/^<!doctype html>/);
    expect(sheet).toContain('Peg &lt;№ 1&gt;');
    expect(sheet).toContain('Glue &amp; peg<br>&lt;b&gt;');
    for (const p of built.programs) {
      expect(sheet).toContain(p.file);
      expect(sheet).toContain(`${p.tools[0]!.limits.rpm} rpm`);
    }
    expect(sheet).toMatch(/local building code/);
    expect(sheet).toMatch(/chuck key/);
    expect(sheet).toMatch(/diagonals/);
    // Radial zero by touching the top flat: half of 22 mm.
    expect(sheet).toContain('type <b>Z11</b>, half of the stock’s true height');
    // The dowel's radius is what stands above the centre: 10 mm across, 5 above.
    expect(sheet).toMatch(/10&nbsp;mm&nbsp;<b>Z5<\/b>/);
    expect(sheet).toContain('jog A by +90');
    // 200 full steps × 16 microsteps × 6 to one over 360°.
    expect(sheet).toContain('<b>53.33333</b>');
    for (const p of built.programs) {
      const { restart } = p.written.passLines[0]!;
      expect(sheet).toMatch(new RegExp(`restarts? ${restart}\\b`));
    }
    for (const run of built.firstRuns!) expect(sheet).toContain(run.file);
    expect(sheet).not.toMatch(/(src|href)=|url\(|@import/);
  });

  test('gives the same bytes again', async () => {
    const again = await buildOf();
    expect([...again.files.keys()]).toEqual([...built.files.keys()]);
    for (const [name, content] of built.files) expect(again.files.get(name), name).toEqual(content);
  });

  test('programs are those that were proven, to the byte', () => {
    for (const p of built.programs) expect(built.files.get(p.file)).toBe(p.text);
  });
});

describe('a refused build', () => {
  const cramped = { ...benches.find((b) => b.id === 'middle')!, id: 'cramped', swing: 25 };

  test('leaves no program, and says why', async () => {
    const built = await buildOf({ bench: cramped });
    expect(built.verdict).toBe('refused');
    expect(programsOf(built)).toEqual([]);
    expect(built.problems.filter((p) => p.severity === 'refuse').map((p) => p.code)).toEqual(['swing']);
  });

  test('keeps its programs on request, under names and first lines that say so', async () => {
    const built = await buildOf({ bench: cramped }, { unproven: true, solid: 'none' });
    expect(built.verdict).toBe('refused');
    const names = programsOf(built);
    expect(names.length).toBeGreaterThan(0);
    for (const name of names) {
      expect(name).toMatch(/^peg-no-1-\d-[a-z0-9-]+\.UNPROVEN\.nc$/);
      expect(String(built.files.get(name))).toMatch(/^\(UNPROVEN: the proof refused this program/);
    }
    expect(text(built, '.sheet.html')).toContain('UNPROVEN: do not cut');
    expect(built.report?.programs.map((p) => p.file)).toEqual(names);
  });

  test('the head of an unproven program is as long as findings are told', () => {
    expect(unprovenText('first\n').split('\n')[UNPROVEN_LINES]).toBe('first');
  });

  test('a part that cannot be resolved is invalid and has no files', async () => {
    const built = await buildOf({ blank: { width: 14 } });
    expect(built.verdict).toBe('invalid');
    expect(built.files.size).toBe(0);
  });
});

test('a build stops where its progress says so', async () => {
  const seen: number[] = [];
  const stopping = buildOf(
    {},
    {
      solid: 'none',
      onProgress: (share) => {
        seen.push(share);
        return seen.length < 3;
      },
    },
  );
  await expect(stopping).rejects.toBeInstanceOf(Stopped);
  expect(seen).toHaveLength(3);
});

test('progress never goes back and ends at the whole', async () => {
  const seen: number[] = [];
  await buildOf({}, { solid: 'none', onProgress: (share) => seen.push(share) > 0 });
  expect([...seen].sort((a, b) => a - b)).toEqual(seen);
  expect(seen[0]).toBe(0);
  expect(seen.at(-1)).toBe(1);
});

test('a control that wants one file gets one, with a row of the report for each bit', async () => {
  const built = await buildOf({ control: 'four-axis-one-file' }, { solid: 'none', unproven: true });
  expect(programsOf(built)).toEqual([expect.stringMatching(/^peg-no-1-1-all-bits(\.UNPROVEN)?\.nc$/)]);
  const report = reportSchema.parse(built.report);
  expect(report.programs.length).toBe(built.programs[0]!.tools.length);
  expect(report.programs.length).toBeGreaterThan(1);
  const blocks = report.programs.reduce((s, p) => s + p.blocks, 0);
  expect(blocks).toBe(built.programs[0]!.written.blocks);
});

test('names become slugs that any file system takes', () => {
  expect(slugOf('Stair baluster')).toBe('stair-baluster');
  expect(slugOf('  Knauf Größe 3/½  ')).toBe('knauf-grosse-3-1-2');
  expect(slugOf('../../etc/passwd')).toBe('etc-passwd');
  expect(slugOf('手すり')).toBe('part');
  expect(slugOf('x'.repeat(300)).length).toBeLessThanOrEqual(60);
  expect(namePrograms('a', [])).toEqual([]);
});
