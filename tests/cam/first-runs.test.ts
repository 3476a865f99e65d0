/** Turn test and air run: what they do under every control, and that the proof refuses them spoiled. */
import { beforeAll, describe, expect, test } from 'vitest';
import { controls } from '../../shared/catalog.ts';
import { TURN } from '../../shared/units.ts';
import { firstRuns } from '../../src/build/first-runs.ts';
import { proofJobOf } from '../../src/build/proof-job.ts';
import type { Built } from '../../src/build.ts';
import { outerRadius } from '../../src/cam/blank.ts';
import { airRun, axialEnds, turnTest } from '../../src/cam/first-runs.ts';
import type { Job } from '../../src/cam/job.ts';
import { proveFirstRun } from '../../src/cam/proof/first-run.ts';
import { follow } from '../../src/cam/proof/motion.ts';
import { writePrograms } from '../../src/cam/write.ts';
import { buildRaw } from '../support/built.ts';
import { readLines } from '../support/program-reader.ts';

const peg = {
  name: 'Peg',
  form: [
    { element: 'cylinder', length: 14, start: 16 },
    { element: 'bead', length: 6, start: 10 },
  ],
  blank: { section: 'square', width: 20 },
  plan: { scallop: 0.15, necking: false },
};
let built: Built;
beforeAll(async () => {
  built = await buildRaw(peg, { solid: 'none' });
});
const jobWith = (control: (typeof controls)[number]): Job => ({ ...built.job!, control });
/** As the control follows it; what it knows of each axis. */
function read(job: Job, text: string) {
  const m = follow(text, job.control, job.bench, { axial: 0, radial: 0 }, (code, line, message) => {
    throw new Error(`${code} in line ${line}: ${message}`);
  });
  const known = (column: Float64Array) => [...column.subarray(0, m.count)].filter((v) => !Number.isNaN(v));
  const atFeed = [...m.time.subarray(0, m.count)].filter((_, k) => m.rapid[k] === 0);
  return { x: known(m.x), r: known(m.r), theta: known(m.theta), atFeed };
}
const ends = () =>
  axialEnds(
    built.job!,
    built.programs.map((p) => p.written),
  );
const judged = (job: Job, text: string) => {
  const { bit, limits } = job.tools.roughing;
  return proveFirstRun(proofJobOf(job, []), { file: 'run.nc', text, bit, ...limits }, ends());
};

describe.each(controls.map((c) => [c.id, c] as const))('under %s', (_id, control) => {
  test('the turn test goes one turn and back, nothing else, in about a minute', () => {
    const job = jobWith(control);
    const { text, time_s } = turnTest(job);
    const m = read(job, text);
    expect(m.theta).toHaveLength(3);
    for (const [k, theta] of [0, TURN, 0].entries()) expect(m.theta[k]).toBeCloseTo(theta, 5);
    expect(m.x).toEqual([]);
    expect(time_s).toBeGreaterThan(45);
    expect(time_s).toBeLessThan(75);
    // The control's own reading of F gives the promised seconds.
    expect(m.atFeed).toHaveLength(2);
    for (const t of m.atFeed) expect(t).toBeCloseTo(20, 1);
    expect(judged(job, text)).toEqual([]);
  });

  test('the air run stays above the corners, sees both ends of the travel and turns once', () => {
    const job = jobWith(control);
    const programs = writePrograms(job, built.plan!.programs);
    const { text } = airRun(job, programs);
    readLines(text);
    const m = read(job, text);
    expect(Math.min(...m.r)).toBeGreaterThan(outerRadius(job.blank));
    const { low, high } = axialEnds(job, programs);
    expect(Math.min(...m.x)).toBeCloseTo(low, 2);
    expect(Math.max(...m.x)).toBeCloseTo(high, 2);
    expect(Math.max(...m.theta)).toBeCloseTo(TURN, 5);
    // The outline shows: the tip rises from the bead's foot (5 mm) to the cylinder (8 mm) by as much as the form does.
    expect(Math.max(...m.r) - Math.min(...m.r)).toBeCloseTo(job.field.maxRadius - 5, 1);
    expect(judged(job, text)).toEqual([]);
  });
});

describe('the proof refuses', () => {
  const spoiled = (change: (text: string) => string) => {
    const { text } = airRun(
      built.job!,
      built.programs.map((p) => p.written),
    );
    const after = change(text);
    expect(after).not.toBe(text);
    return judged(built.job!, after)
      .filter((f) => f.severity === 'refuse')
      .map((f) => f.code);
  };
  test('a start that is not lifted', () =>
    expect(spoiled((t) => t.replace(/^G0 Z[\d.]+$/m, 'G0 Z5'))).toContain('start-not-lifted'));
  test('a way through the blank', () => expect(spoiled((t) => t.replace(/^X0 F/m, 'X0 Z9 F'))).toContain('keep-out'));
  test('a spindle that runs', () => expect(spoiled((t) => t.replace(/^M5$/m, 'S9000 M3'))).toContain('spindle-range'));
  test('a lift beyond the room above', () =>
    expect(spoiled((t) => t.replace(/^G0 Z[\d.]+$/m, 'G0 Z400'))).toContain('travel-limit'));
  test('a rotary faster than it can', () =>
    expect(spoiled((t) => t.replace(/^A360 F3$/m, 'A360 F90'))).toContain('speed-limit'));
});

test('make hands both over beside the cutting programs, which alone are in the report', () => {
  const names = [...built.files.keys()].filter((f) => f.endsWith('.nc'));
  expect(names.slice(0, 2)).toEqual(['peg-0-turn-test.nc', 'peg-0-air-run.nc']);
  expect(built.report!.programs.map((p) => p.file)).toEqual(names.slice(2));
});

test('a run that the proof refuses is left out with a word why', () => {
  const job = built.job!;
  const low = { ...job, bench: { ...job.bench, roomAbove: 60 } };
  const { runs, problems } = firstRuns('peg', low, built.programs);
  expect(runs).toEqual([]);
  expect(problems.map((p) => [p.code, p.severity, p.path])).toEqual([
    ['first-run', 'warn', 'peg-0-turn-test.nc'],
    ['first-run', 'warn', 'peg-0-air-run.nc'],
  ]);
});
