/**
 * The proof: reads every program as text, follows it as the control will, takes wood from the real blank with the real bit, and judges.
 * It knows nothing of how the program came about and shares no code with what planned or wrote it.
 */

import { FINISH_TOLERANCE, REST_AREA, SCALLOP } from '../../../shared/tolerances.ts';
import { degrees } from '../../../shared/units.ts';
import { keepOutContact, rapidContact } from './clear.ts';
import { cornerLeft, turnedRows } from './corners.ts';
import { BitAtWork, type Site } from './cutting.ts';
import { complaintsOf, Findings } from './findings.ts';
import { finenessOf } from './fineness.ts';
import { FORM, layGrid } from './grid.ts';
import { Holes } from './holes.ts';
import { checkBits, checkRotary, checkSpeeds, checkStart, checkTravel, clearHeight } from './limits.ts';
import { follow, type Motions } from './motion.ts';
import { restOf } from './rest.ts';
import { shapeOf } from './shape.ts';
import { inscribed } from './stock.ts';
import {
  type DeclaredBit,
  type ProgramText,
  type Progress,
  type Proof,
  type ProofJob,
  type StageTally,
  Stopped,
} from './verdict.ts';
import type { Place } from './walk.ts';
import { Wood } from './wood.ts';

/** Motions between two calls of the progress callback. */
const REPORT_EVERY = 1000;
/** Motions between two tightenings of the row bounds. */
const TIGHTEN_EVERY = 32;
const NO_STAGE = 'unnamed';
const num = (n: number, digits = 2) => n.toFixed(digits);
const turnOf = (theta: number) => ((degrees(theta) % 360) + 360) % 360;

type Tally = { -readonly [K in keyof StageTally]: StageTally[K] };

/**
 * Proves the programs of a job.
 * @param job part, blank, what holds it, bench, control and the programs as text in the order of running
 * @param progress called with the share done; returning false stops
 * @returns verdict, findings, times as the control will take them (no accelerations), and what is left over
 * @throws Stopped when the callback asked for it
 */
export function prove(job: ProofJob, progress?: Progress): Proof {
  const findings = new Findings();
  const say = (share: number, what: string) => {
    if (progress?.(share, what) === false) throw new Stopped();
  };
  say(0, 'reading');
  const followed = job.programs.map((program) => ({ program, motions: readOne(job, program, findings) }));
  const total = Math.max(
    1,
    followed.reduce((n, f) => n + f.motions.count, 0),
  );

  const declared = job.programs.flatMap((p) => [p as DeclaredBit, ...(p.changes ?? [])]);
  const shapes = declared.map((d) => shapeOf(d.bit));
  const grid = layGrid(job, finenessOf(job.field, shapes, job.tolerance));
  const wood = new Wood(grid);
  say(0.05, 'blank');
  const site: Site = {
    wood,
    field: job.field,
    holes: new Holes(job.field, wood, job.tolerance),
    tolerance: job.tolerance,
    spindleMin: job.bench.spindleMin,
    spindleMax: job.bench.spindleMax,
    tell: (note) => findings.add(note),
  };
  checkBlank(job, wood, findings);

  const corners = turnedRows(job, wood);
  const state: RunState = { done: 0, cornersSeen: corners.length === 0 };
  const tallies: Tally[] = [];
  let deepest = 0;
  const span = { low: Infinity, high: -Infinity };
  for (const { program, motions } of followed) {
    checkTravel(job, program, motions, span, site.tell);
    const bits = [program as DeclaredBit, ...(program.changes ?? [])].map((d) => new BitAtWork(site, d));
    tallies.push(
      ...runOne(job, program, motions, bits, site, corners, state, (n) => say(0.05 + (0.85 * n) / total, program.file)),
    );
    for (const b of bits) deepest = Math.max(deepest, b.deepest);
  }

  say(0.9, 'what is left');
  const allowed = 1.5 * (job.scallop ?? SCALLOP) + 2 * Math.max(job.tolerance, FINISH_TOLERANCE) + 0.04;
  const finishing = job.surfaceBits?.map(shapeOf) ?? shapes;
  const distinct = finishing.filter(
    (s, i) => finishing.findIndex((o) => JSON.stringify(o) === JSON.stringify(s)) === i,
  );
  const rest = restOf(wood, allowed, distinct, job.stubs);
  const last = followed[followed.length - 1];
  const lastFile = last?.program.file ?? '';
  if (rest.reachableArea > 0) {
    const refuse = rest.reachableArea > REST_AREA;
    findings.add({
      code: 'rest-reachable',
      severity: refuse ? 'refuse' : 'note',
      file: lastFile,
      line: 0,
      x: rest.reachable.x,
      theta: rest.reachable.theta,
      amount: rest.reachable.depth,
      say: `wood is left on ${num(rest.reachableArea, 1)} mm² of the form (${num((100 * rest.reachableArea) / rest.area, 2)} %) that the finishing bits could reach, up to ${num(rest.reachable.depth)} mm thick at x ${num(rest.reachable.x)}, ${num(turnOf(rest.reachable.theta), 1)}°`,
      fix: 'At that place move an element or a carving, take a smaller finishing or detail bit or a finer scallop; if the program was changed by hand, look there for missing or lifted lines',
    });
  }
  if (rest.unreachable.depth > job.tolerance)
    findings.add({
      code: 'rest-unreachable',
      severity: 'note',
      file: lastFile,
      line: 0,
      x: rest.unreachable.x,
      theta: rest.unreachable.theta,
      amount: rest.unreachable.depth,
      say: `the finishing bits do not reach the bottom of every hollow and corner: up to ${num(rest.unreachable.depth)} mm of wood stays at x ${num(rest.unreachable.x)}, ${num(turnOf(rest.unreachable.theta), 1)}°`,
      fix: 'Add a smaller bit, or open the hollow',
    });
  for (const { hole, left } of site.holes.undone(wood))
    findings.add({
      code: 'rest-reachable',
      severity: 'refuse',
      file: lastFile,
      line: 0,
      x: hole.x,
      theta: hole.theta,
      amount: left,
      say: `the hole at x ${num(hole.x)}, ${num(turnOf(hole.theta), 1)}° still holds ${num(left)} mm of wood`,
      fix: 'Look for missing lines in the drilling program',
      key: `hole ${hole.x} ${hole.theta}`,
    });
  say(1, 'done');
  const dwell = followed.reduce((s, f) => s + f.motions.dwell_s, 0);
  return {
    verdict: findings.refused ? 'refused' : 'proven',
    deepestGouge: Math.max(deepest, rest.deepest),
    restP99: rest.p99,
    tolerance: job.tolerance,
    findings: findings.list(),
    stages: tallies,
    time_s: tallies.reduce((s, t) => s + t.time_s, dwell),
    leftOver: rest.leftOver,
  };
}

interface RunState {
  /** Motions of all programs done so far. */
  done: number;
  /** Whether the corners have been looked at, or need not be. */
  cornersSeen: boolean;
}

/** Text → motions, with every complaint about a line turned into a finding. */
function readOne(job: ProofJob, program: ProgramText, findings: Findings): Motions {
  const tell = (note: Parameters<Findings['add']>[0]) => findings.add(note);
  const whole = follow(program.text, job.control, job.bench, job.offsets, complaintsOf(program.file, tell));
  const motions = program.until === undefined ? whole : cutShort(whole, program.until);
  if (whole.count === 0)
    findings.add({
      code: 'line-forbidden',
      severity: 'refuse',
      file: program.file,
      line: 0,
      x: 0,
      theta: 0,
      amount: 0,
      say: 'the program holds no motion',
      fix: 'Write the program again',
      key: 'empty',
    });
  checkStart(job, program, motions, tell);
  checkSpeeds(job, program, motions, tell);
  checkBits(program, motions, tell);
  const { stageOf, finishing } = stagesOf(motions);
  checkRotary(job, program, motions, stageOf, finishing, tell);
  return motions;
}

/** The motions of the lines before one line: what a program did that was stopped there. */
function cutShort(motions: Motions, until: number): Motions {
  let count = 0;
  while (count < motions.count && motions.line[count]! < until) count++;
  return { ...motions, count, markers: motions.markers.filter((m) => m.line < until) };
}

/** Which marker each motion belongs to (−1 before the first), and which markers are finishing. */
function stagesOf(motions: Motions): { stageOf: Int32Array; finishing: Set<number> } {
  const stageOf = new Int32Array(motions.count).fill(-1);
  const finishing = new Set<number>();
  motions.markers.forEach((marker, n) => {
    stageOf.fill(n, marker.from);
    if (marker.stage === 'finishing') finishing.add(n);
  });
  return { stageOf, finishing };
}

/** A blank that does not hold the part is a gouge before the first cut. */
function checkBlank(job: ProofJob, wood: Wood, findings: Findings): void {
  const { grid, outer } = wood;
  const m = grid.columns;
  let worst = job.tolerance;
  let at = -1;
  for (let i = 0; i < grid.xs.length; i++)
    if (grid.region[i] === FORM)
      for (let k = i * m; k < (i + 1) * m; k++)
        if (grid.part[k]! - outer[k]! > worst) {
          worst = grid.part[k]! - outer[k]!;
          at = k;
        }
  if (at < 0) return;
  const x = grid.xs[Math.floor(at / m)]!;
  findings.add({
    code: 'gouge',
    severity: 'refuse',
    file: job.programs[0]?.file ?? '',
    line: 0,
    x,
    theta: ((at % m) / m) * 2 * Math.PI,
    amount: worst,
    say: `the blank is ${num(worst)} mm smaller than the part at x ${num(x)}`,
    fix: 'Take a larger blank',
    key: 'blank',
  });
}

/** Runs one program on the wood. @returns its stages */
function runOne(
  job: ProofJob,
  program: ProgramText,
  motions: Motions,
  bits: readonly BitAtWork[],
  site: Site,
  corners: readonly number[],
  state: RunState,
  report: (done: number) => void,
): Tally[] {
  const { wood } = site;
  const tallies: Tally[] = [];
  const open = (stage: string): Tally => {
    let t = tallies.find((o) => o.stage === stage);
    if (!t) {
      t = { file: program.file, stage, passes: 0, blocks: 0, time_s: 0, air_s: 0, link_s: 0, removed: 0 };
      tallies.push(t);
    }
    return t;
  };
  let tally: Tally | undefined;
  let marker = 0;
  const high = clearHeight(job);
  const inner = inscribed(job.blank);
  for (let k = 0; k < motions.count; k++, state.done++) {
    if (state.done % REPORT_EVERY === 0) report(state.done);
    while (marker < motions.markers.length && motions.markers[marker]!.from <= k) {
      tally = open(motions.markers[marker]!.stage);
      tally.passes++;
      marker++;
    }
    tally ??= open(NO_STAGE);
    const time = motions.time[k]!;
    tally.blocks++;
    tally.time_s += time;
    const rapid = motions.rapid[k] === 1;
    if (rapid) tally.link_s += time;
    const to: Place = { x: motions.x[k]!, r: motions.r[k]!, theta: motions.theta[k]! };
    const from: Place =
      k > 0
        ? { x: motions.x[k - 1]!, r: motions.r[k - 1]!, theta: motions.theta[k - 1]! }
        : { x: Number.NaN, r: Number.NaN, theta: Number.NaN };
    // Until all three places are known nothing can be said but that the tip must stand high (told with the start).
    if (Number.isNaN(to.x) || Number.isNaN(to.r) || Number.isNaN(to.theta)) continue;
    if (Number.isNaN(from.x)) from.x = to.x;
    if (Number.isNaN(from.r)) from.r = Math.max(high, to.r);
    if (Number.isNaN(from.theta)) from.theta = to.theta;
    const bit = bits[Math.min(motions.tool[k]!, bits.length - 1)]!;
    const line = motions.line[k]!;
    if (k % TIGHTEN_EVERY === 0)
      wood.tightenAlong(Math.min(from.x, to.x) - bit.shape.R, Math.max(from.x, to.x) + bit.shape.R);

    const contact = keepOutContact(bit.stems, job.keepOut, from, to, rapid);
    if (contact)
      site.tell({
        code: 'keep-out',
        severity: 'refuse',
        file: program.file,
        line,
        x: contact.x,
        theta: to.theta,
        amount: contact.depth,
        say: `the ${contact.stem.what} runs ${num(contact.depth)} mm into the ${contact.what} at x ${num(contact.x)}`,
        fix: 'Keep clear of what holds the blank: leave a longer stub, grip less or lift first',
        key: `${contact.what} ${contact.stem.what}`,
      });
    if (rapid) {
      const rammed = rapidContact(wood, bit.cutter, bit.shape, bit.stems, from, to);
      if (rammed) {
        site.tell({
          code: 'rapid-in-wood',
          severity: 'refuse',
          file: program.file,
          line,
          x: rammed.x,
          theta: rammed.theta,
          amount: rammed.depth,
          say: `a rapid takes the ${rammed.stem.what} ${num(rammed.depth)} mm into wood at x ${num(rammed.x)}, ${num(turnOf(rammed.theta), 1)}° (its axes may run in any order)`,
          fix: 'Lift, then travel, then drop to just above the wood',
        });
        // What a rapid rams is gone all the same: the rest of the program meets the wood as it will be.
        bit.work({ file: program.file, line, spindle: motions.spindle[k]!, rpm: motions.rpm[k]! }, from, to);
      }
      continue;
    }
    const done = bit.work({ file: program.file, line, spindle: motions.spindle[k]!, rpm: motions.rpm[k]! }, from, to);
    tally.removed += done.volume;
    tally.air_s += time * (1 - done.cutting);
    if (!state.cornersSeen && done.volume > 0 && Math.min(from.r, to.r) < inner - bit.declared.stepDown - 0.05) {
      state.cornersSeen = true;
      const left = cornerLeft(job, wood, corners);
      if (left)
        site.tell({
          code: 'unfinished-corner',
          severity: 'refuse',
          file: program.file,
          line,
          x: left.x,
          theta: left.theta,
          amount: left.height,
          say: `the bit goes deeper than one step-down below the inscribed circle while corners still stand ${num(left.height)} mm beyond it, the largest on ${num(left.area, 1)} mm²`,
          fix: 'Take the corners off over all turned lengths first',
        });
    }
  }
  return tallies;
}
