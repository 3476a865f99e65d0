import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import info from '../../package.json' with { type: 'json' };
import { reportSchema } from '../../src/build/report.ts';
import { cavetto, type Ran, scratch } from '../support/command.ts';

const at = scratch();
afterAll(() => at.remove());
const out = `${at.dir}/out`;
/** Small and coarse, so that a run takes a moment. */
const peg = {
  name: 'Dowel peg',
  form: [{ element: 'cylinder', length: 16, start: 16 }],
  blank: { section: 'square', width: 20 },
  plan: { scallop: 0.1 },
};
const document = at.file('peg.part.json', peg);

describe('make', () => {
  let ran: Ran;
  beforeAll(async () => {
    mkdirSync(`${out}/dowel-peg`, { recursive: true });
    // What an earlier run left, what is somebody else's, and what a killed run left beside it.
    writeFileSync(`${out}/dowel-peg/dowel-peg-7-flat-6.nc`, 'old');
    writeFileSync(`${out}/dowel-peg/dowel-peg-1-ball-6.UNPROVEN.nc`, 'old');
    writeFileSync(`${out}/dowel-peg/photo of the peg.txt`, 'mine');
    mkdirSync(`${out}/.dowel-peg.part-4194303`);
    writeFileSync(`${out}/.dowel-peg.part-4194303/dowel-peg.stl`, 'half');
    ran = await cavetto(['make', document, '--out', out]);
  });

  test('ends with 0 and says where the files are', () => {
    expect(ran.code, ran.err + ran.out).toBe(0);
    expect(ran.out).toMatch(/^verdict {3}proven$/m);
    expect(ran.out).toContain(`${out}/dowel-peg`);
  });

  test('writes solid, programs, sheet and report, replacing its own older files and nothing else', () => {
    const report = reportSchema.parse(JSON.parse(readFileSync(`${out}/dowel-peg/dowel-peg.report.json`, 'utf8')));
    const wanted = [
      'dowel-peg.stl',
      'dowel-peg.3mf',
      'dowel-peg.sheet.html',
      'dowel-peg.report.json',
      'dowel-peg-0-turn-test.nc',
      'dowel-peg-0-air-run.nc',
      'photo of the peg.txt',
      ...report.programs.map((p) => p.file),
    ].map((f) => `out/dowel-peg/${f}`);
    expect(at.all().filter((f) => f.startsWith('out/'))).toEqual(wanted.sort());
    expect(existsSync(`${out}/.dowel-peg.part-4194303`)).toBe(false);
    expect(report.programs.map((p) => p.file)).toEqual(
      report.programs.map((_p, i) => expect.stringMatching(new RegExp(`^dowel-peg-${i + 1}-[a-z0-9-]+\\.nc$`))),
    );
  });

  test('tells its progress on stderr in plain lines, without colours or bars', () => {
    expect(ran.err).toMatch(/^planning: corners$/m);
    expect(ran.err).toMatch(/^proving: /m);
    // biome-ignore lint/suspicious/noControlCharactersInRegex: escape sequences are what must not be there
    expect(ran.err + ran.out).not.toMatch(/[\u001b\r█░]/);
  });

  test('with --quiet and --json prints one object, and the same bytes again', async () => {
    const before = new Map(at.all().map((f) => [f, readFileSync(`${at.dir}/${f}`)]));
    const again = await cavetto(['make', document, '--out', out, '--quiet', '--json'], { NO_COLOR: '1' });
    expect(again.code).toBe(0);
    expect(again.err).toBe('');
    const said = JSON.parse(again.out);
    expect(said).toMatchObject({ verdict: 'proven', exit: 0, folder: `${out}/dowel-peg` });
    reportSchema.parse(said.report);
    expect(said.files).toContain('dowel-peg.stl');
    for (const [f, bytes] of before) expect(readFileSync(`${at.dir}/${f}`).equals(bytes), f).toBe(true);
  });
});

describe('make --from-pass', () => {
  test('adds the program that starts there', async () => {
    const ran = await cavetto(['make', document, '--out', `${at.dir}/again`, '--from-pass', '3', '--quiet', '--json']);
    expect(ran.code, ran.err + ran.out).toBe(0);
    const added = JSON.parse(ran.out).files.filter((f: string) => f.includes('-from-'));
    expect(added).toEqual([expect.stringMatching(/^dowel-peg-1-[a-z0-9-]+-from-3\.nc$/)]);
    const text = readFileSync(`${at.dir}/again/dowel-peg/${added[0]}`, 'utf8');
    expect(text).toMatch(/taken up again at restart 3/);
    expect(text).toMatch(/^\(stage [a-z]+, pass 3 of .*; restart 3\)$/m);
  });

  test.each(['0', '-2', 'three', '1.5'])('%s is no pass', async (pass) => {
    const ran = await cavetto(['make', document, '--out', `${at.dir}/none`, '--from-pass', pass]);
    expect(ran.code).toBe(2);
    expect(ran.err).toMatch(/whole number from 1 on/);
    expect(existsSync(`${at.dir}/none`)).toBe(false);
  });

  test('a pass beyond the last is told with the last', async () => {
    const ran = await cavetto(['make', document, '--out', `${at.dir}/none`, '--from-pass', '9000', '--quiet']);
    expect(ran.code).toBe(2);
    expect(ran.err).toMatch(/^--from-pass: there is no pass 9000 \(1 to \d+: /m);
    expect(existsSync(`${at.dir}/none`)).toBe(false);
  });
});

describe('match', () => {
  // Sixteen across was wanted; the tip stood 0.1 lower.
  const readings = at.file('readings.csv', 'x,diameter\n3,15.8\n8,15.8\n13,15.81\n');

  test('says what was off, a reading a line', async () => {
    const ran = await cavetto(['match', document, '--readings', readings]);
    expect(ran.code, ran.err).toBe(0);
    expect(ran.out).toMatch(/^ +8\.00 +16\.00 +15\.80 +-0\.20 /m);
    expect(ran.out).toMatch(/the radial zero was off by 0\.10 mm: the bit stood lower than the program said/);
  });

  test('with --out makes the next part with it, proven for the machine as it is', async () => {
    const ran = await cavetto([
      'match',
      document,
      '--readings',
      readings,
      '--out',
      `${at.dir}/next`,
      '--quiet',
      '--json',
    ]);
    expect(ran.code, ran.err).toBe(0);
    const said = JSON.parse(ran.out);
    expect(said.match.causes.zero).toBeCloseTo(0.098, 2);
    expect(said.report.words.radial.offset).toBeCloseTo(said.match.causes.zero, 3);
    const kept = JSON.parse(readFileSync(`${at.dir}/next/dowel-peg/dowel-peg.matched.part.json`, 'utf8'));
    expect(kept.trim.radial).toBeCloseTo(said.match.causes.zero, 3);
  });

  test('readings that cannot be of this part are wrong input: one line, and nothing is written', async () => {
    const thick = at.file('thick.csv', 'x,diameter\n3,100\n8,100\n13,100\n');
    const before = at.all();
    const ran = await cavetto(['match', document, '--readings', thick, '--out', `${at.dir}/thick`]);
    expect(ran).toMatchObject({ code: 2, out: '' });
    expect(ran.err).toMatch(/thick\.csv: at x 3 mm a diameter of 100 mm is thicker than the stock.*measure again/);
    expect(ran.err.trimEnd().split('\n')).toHaveLength(1);
    expect(at.all()).toEqual(before);
  });

  test('a table that cannot be read is wrong input', async () => {
    const ran = await cavetto(['match', document, '--readings', at.file('odd.csv', 'x,diameter\n3,thick\n')]);
    expect(ran.code).toBe(2);
    expect(ran.err).toMatch(/odd\.csv, line 2: diameter is thick/);
  });
});

describe('check', () => {
  test('says fit, loads, strength and proof, and writes nothing', async () => {
    const before = at.all();
    const ran = await cavetto(['check', document, '--quiet', '--json']);
    expect(ran.code).toBe(0);
    const said = JSON.parse(ran.out);
    expect(said).toMatchObject({ verdict: 'proven', exit: 0 });
    reportSchema.parse(said.report);
    const plain = await cavetto(['check', document]);
    expect(plain.out).toMatch(/^verdict {3}proven$/m);
    expect(plain.out).toMatch(/^strength /m);
    expect(plain.out).toMatch(/Step-down \d/);
    expect(at.all()).toEqual(before);
  });
});

describe('check of a part that does not fit', () => {
  const file = new URL('../fixtures/check/off-centre-blank.part.json', import.meta.url).pathname;

  test('says the worst first, with number, bound and the changes that mend it, and where it would bend', async () => {
    const ran = await cavetto(['check', file]);
    expect(ran.code).toBe(3);
    const lines = ran.out.split('\n');
    expect(lines[0]).toMatch(/^refused: blank\.offCentre: the stock's middle lies 1\.5 mm off the centre/);
    expect(lines.slice(1, 6)).toEqual([
      '    1.5 mm, at most 1 mm',
      '    change centres marked again, within 1 mm',
      '           blank.offCentre 1',
      '        or a blank 19 mm wide',
      '           blank.width 19',
    ]);
    expect(ran.out).toMatch(/^against {3}1 refused, \d+ noted$/m);
    expect(ran.out).toMatch(/^ +x +thick +finish +most +twist +times +weakest in/m);
    expect(ran.out).toMatch(/^ {2}Load [\d.]+ N on a dull edge: /m);
  });

  test('with --json carries all of it as data', async () => {
    const said = JSON.parse((await cavetto(['check', file, '--json', '--quiet'])).out);
    expect(said).toMatchObject({ verdict: 'refused', exit: 3, report: null });
    expect(said.problems[0]).toMatchObject({
      code: 'off-centre',
      measure: { got: 1.5, bound: 1, unit: 'mm' },
      changes: [{ set: [{ path: 'blank.offCentre', value: 1 }] }, { set: [{ path: 'blank.width', value: 19 }] }],
    });
    expect(said.strength.stations.length).toBeGreaterThan(100);
    expect(said.strength.stations[80]).toMatchObject({ finishingFeed: 1, limits: { deflection: 0.03, safety: 2 } });
    expect(said.loads.map((l: { bit: string }) => l.bit)).toEqual(['flat-6', 'ball-6']);
    expect(said.loads[0].limits.why).toHaveLength(8);
  });
});

describe('a refused part', () => {
  const refused = at.file('thick.part.json', {
    ...peg,
    name: 'Thick peg',
    bench: 'small',
    blank: { section: 'square', width: 20 },
  });

  test('leaves no program: three jaws do not hold a square', async () => {
    const ran = await cavetto(['make', refused, '--out', `${at.dir}/refused`, '--quiet']);
    expect(ran.code).toBe(3);
    expect(ran.err).toMatch(/^refused: holding: 3 jaws do not seat on 4 flats \(/m);
    expect(existsSync(`${at.dir}/refused`)).toBe(false);
  });

  test('with --unproven keeps its programs, marked in name and first line, and still ends with 3', async () => {
    const ran = await cavetto(['make', refused, '--out', `${at.dir}/refused`, '--quiet', '--unproven']);
    expect(ran.code).toBe(3);
    const programs = at.all().filter((f) => f.startsWith('refused/') && f.endsWith('.nc'));
    expect(programs.length).toBeGreaterThan(0);
    for (const p of programs) {
      expect(p).toMatch(/\.UNPROVEN\.nc$/);
      expect(readFileSync(`${at.dir}/${p}`, 'utf8')).toMatch(/^\(UNPROVEN: /);
    }
  });
});

test('a run that is killed leaves no half file where results belong', async () => {
  const dir = `${at.dir}/killed`;
  for (const stop of [300, 900]) {
    const ran = await cavetto(['make', document, '--out', dir], {}, stop);
    if (ran.code === 0) continue;
    const left = at.all().filter((f) => f.startsWith('killed/dowel-peg/'));
    expect(left).toEqual([]);
  }
  // The next run finds its way.
  expect((await cavetto(['make', document, '--out', dir, '--quiet'])).code).toBe(0);
});

test('an output folder that cannot be written is the caller’s to mend', async () => {
  const ran = await cavetto(['make', document, '--out', document, '--quiet']);
  expect(ran.code).toBe(2);
  expect(ran.err).toMatch(/^--out: .* cannot be written \(E[A-Z]+\)/);
});

test('help, version and templates', async () => {
  const help = await cavetto(['--help']);
  expect(help.code).toBe(0);
  for (const word of ['make', 'check', 'templates', 'Exit codes', 'NO_COLOR']) expect(help.out).toContain(word);
  expect(await cavetto(['--version'])).toMatchObject({ code: 0, out: `${info.version}\n` });
  const list = await cavetto(['templates']);
  expect(list.out).toMatch(/^stair-baluster /m);
  const one = await cavetto(['templates', 'stair-baluster']);
  expect(one.out).toBe(readFileSync(new URL('../../templates/stair-baluster.part.json', import.meta.url), 'utf8'));
});
