/** Whether the blank turns and lies in the bench: swing, bed, room under the spindle, lengths, brackets. */
import type { Bit } from '../../shared/catalog.ts';
import type { Change, Edit, Problem } from '../../shared/problems.ts';
import { CENTRING, CLEARANCE, SAME_X } from '../../shared/tolerances.ts';
import { outerRadius } from './blank.ts';
import { neededStickOut } from './fit-reach.ts';
import type { Job } from './job.ts';
import {
  change,
  downTo,
  likeBits,
  mm,
  narrower,
  otherBench,
  type Role,
  reset,
  rolesOf,
  rounder,
  withBit,
} from './mend.ts';

export function roomFit(job: Job): Problem[] {
  return [
    ...swingFit(job),
    ...rolesOf(job).flatMap((role) => aboveFit(job, role)),
    ...lengthFit(job),
    ...bracketFit(job),
  ];
}

/** How far the stock's middle may lie off the centre: told, or what marking by hand gives. */
export const offCentre = (job: Job): number => Math.max(CENTRING, job.offCentre ?? 0);

/** Widest blank of the same section with a corner radius, mm. */
const widthFor = (job: Job, corner: number): number => (job.blank.width * corner) / outerRadius(job.blank);

/** A square's corners swing √2 times its side: the diagonal counts, not the side. */
function swingFit(job: Job): Problem[] {
  const { bench, blank } = job;
  const problems: Problem[] = [];
  const diagonal = 2 * outerRadius(blank);
  const smaller = (corner: number): Change[] => [
    ...narrower(job, widthFor(job, corner)),
    ...rounder(job, (b) => outerRadius(b) <= corner),
    ...otherBench(job, (b) => b.swing >= diagonal && b.bedBelow >= diagonal / 2 + CLEARANCE),
  ];
  if (diagonal > bench.swing)
    problems.push({
      code: 'swing',
      severity: 'refuse',
      path: 'blank',
      message: `the blank's corners turn through ${mm(diagonal)} mm, the bench swings ${mm(bench.swing)} mm: ${mm(diagonal - bench.swing)} mm too much`,
      allowed: `a blank at most ${mm(bench.swing)} mm across the corners, or plane its corners off first`,
      measure: { got: diagonal, bound: bench.swing, unit: 'mm' },
      changes: smaller(bench.swing / 2),
    });
  const below = diagonal / 2 + CLEARANCE;
  if (below > bench.bedBelow)
    problems.push({
      code: 'swing',
      severity: 'refuse',
      path: 'blank',
      message: `the corners need ${mm(below)} mm below the centre, the bed is ${mm(bench.bedBelow)} mm below it`,
      allowed: `a blank at most ${mm(2 * (bench.bedBelow - CLEARANCE))} mm across the corners`,
      measure: { got: below, bound: bench.bedBelow, unit: 'mm' },
      changes: smaller(bench.bedBelow - CLEARANCE),
    });
  return problems;
}

/** What bits must be lifted over: the blank's corners, and whatever holds it. @returns mm above the centre */
export const liftOver = (job: Job): number => Math.max(job.safeRadius, ...job.keepOut.map((k) => k.radius + CLEARANCE));

const tooTall = (job: Job): Role[] =>
  rolesOf(job).filter((r) => liftOver(job) + r.tool.bit.stickOut > job.bench.roomAbove);

/** Every bit that stands too tall pushed further into its holder, if all of them still reach. */
function pushedIn(job: Job): Change[] {
  const stickOut = downTo(job.bench.roomAbove - liftOver(job), 0.5);
  const roles = tooTall(job);
  if (!roles.every((r) => stickOut >= neededStickOut(job, r) && stickOut > r.tool.bit.diameter)) return [];
  return [
    change(
      `${listed(roles.map((r) => r.tool.bit.label))} pushed in to ${stickOut} mm of stick-out`,
      ...edits(job, roles, (r) => reset(r.tool.bit, stickOut)),
    ),
  ];
}

/** For every bit that stands too tall a shorter one of its kind from the catalog, if there is one that reaches. */
function shortBits(job: Job): Change[] {
  const most = job.bench.roomAbove - liftOver(job);
  const roles = tooTall(job);
  const found = roles.map((role) =>
    likeBits(role.tool.bit).find(
      (bit) => bit.stickOut <= most && bit.stickOut >= neededStickOut(job, { ...role, tool: { ...role.tool, bit } }),
    ),
  );
  if (found.some((bit) => !bit)) return [];
  return [
    change(
      listed(found.map((bit) => `${bit!.label}, ${mm(bit!.stickOut)} mm out`)),
      ...edits(job, roles, (r) => found[roles.indexOf(r)]!),
    ),
  ];
}

/** New bits for several roles; the last edit of the list of detail bits holds all of them. */
function edits(job: Job, roles: readonly Role[], bit: (role: Role) => Bit): Edit[] {
  let as = job;
  return roles.map((role) => {
    const edit = withBit(as, role, bit(role));
    if (role.kind === 'detail') {
      const detail = as.tools.detail.map((t, i) => (i === role.index ? { ...t, bit: bit(role) } : t));
      as = { ...as, tools: { ...as.tools, detail } };
    }
    return edit;
  });
}

const listed = (names: readonly string[]): string =>
  names.length < 2 ? names.join('') : `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`;

/** The room that counts is the one above: the corner at its highest, the air over it, and this bit under the spindle's top. */
function aboveFit(job: Job, role: Role): Problem[] {
  const { bench, blank } = job;
  const { bit } = role.tool;
  const clear = liftOver(job);
  const needed = clear + bit.stickOut;
  if (needed <= bench.roomAbove) return [];
  const corner = outerRadius(blank);
  const held = job.keepOut.find((k) => k.radius + CLEARANCE === clear);
  const highest = held
    ? `the ${held.what} stands ${mm(held.radius)} mm above the centre`
    : blank.section === 'square'
      ? `at 45° the square stands ${mm(corner)} mm above the centre`
      : `the blank stands up to ${mm(corner)} mm above the centre`;
  const most = bench.roomAbove - clear;
  const changes = [...pushedIn(job), ...shortBits(job)];
  if (held) changes.push(...otherBench(job, (b) => b.roomAbove - b.chuck.diameter / 2 >= needed - held.radius));
  else
    changes.push(
      ...narrower(job, widthFor(job, corner - (needed - bench.roomAbove))),
      ...rounder(job, (b) => outerRadius(b) <= corner - (needed - bench.roomAbove)),
      ...otherBench(job, (b) => b.roomAbove >= needed),
    );
  return [
    {
      code: 'room-above',
      severity: 'refuse',
      path: role.path,
      message: `${highest}; ${bit.label} stands out ${mm(bit.stickOut)} mm and must clear ${mm(clear)} mm: ${mm(needed)} mm above the centre, the bench has ${mm(bench.roomAbove)} mm, ${mm(needed - bench.roomAbove)} mm too little`,
      allowed: `a stick-out of at most ${mm(most)} mm${held ? '' : ', or a smaller blank'}`,
      measure: { got: needed, bound: bench.roomAbove, unit: 'mm' },
      changes,
    },
  ];
}

/** Jaws to point, and the way of the bits with their run-off. */
function lengthFit(job: Job): Problem[] {
  const { bench, blank, holding } = job;
  const problems: Problem[] = [];
  const between = blank.to - blank.from - holding.chuckGrip;
  const shorter = (over: number): Change[] => {
    const length = downTo(job.field.length - over, 1);
    return length > 0
      ? [change(`a form ${length} mm long (its shared lengths give way)`, { path: 'length', value: length })]
      : [];
  };
  const { adapter = 0 } = bench;
  const room = bench.betweenCentres - adapter;
  if (between > room) {
    const over = between - room;
    problems.push({
      code: 'blank-too-long',
      severity: 'refuse',
      path: 'blank',
      message: `${mm(between)} mm stand between chuck and centre (stub ${mm(holding.chuckStub)}, form ${mm(job.field.length)}, stub ${mm(holding.tailStub)}), the bench takes ${mm(room)} mm${adapter ? ` beside its adapter of ${mm(adapter)} mm` : ''}: ${mm(over)} mm too long`,
      allowed: `shorten part or stubs by ${mm(over)} mm`,
      measure: { got: between, bound: room, unit: 'mm' },
      changes: [
        ...shorter(over),
        ...otherBench(job, (b) => b.betweenCentres - (b.adapter ?? 0) >= between && b.axialTravel >= wayOf(job)),
      ],
    });
  }
  const way = wayOf(job);
  if (way > bench.axialTravel)
    problems.push({
      code: 'travel',
      severity: 'refuse',
      path: 'bench',
      message: `the bits must travel ${mm(way)} mm along the part with its run-off, the bench travels ${mm(bench.axialTravel)} mm`,
      allowed: `shorten part or stubs by ${mm(way - bench.axialTravel)} mm`,
      measure: { got: way, bound: bench.axialTravel, unit: 'mm' },
      changes: [
        ...shorter(way - bench.axialTravel),
        ...otherBench(job, (b) => b.axialTravel >= way && b.betweenCentres - (b.adapter ?? 0) >= between),
      ],
    });
  return problems;
}

/** From one end of the bits' way to the other, run-off included. @returns mm */
function wayOf(job: Job): number {
  const widest = Math.max(job.tools.roughing.bit.diameter, job.tools.finishing.bit.diameter);
  const from = Math.min(0, job.stubs.chuck.from) - widest / 2;
  const to = Math.max(job.field.length, job.stubs.tail.to) + widest / 2;
  return to - from;
}

/** A bracket beside the form keeps a bit off it where the form is lower. */
function bracketFit(job: Job): Problem[] {
  const { field } = job;
  return job.keepOut.flatMap((k): Problem[] => {
    if (k.to <= 0 || k.from >= field.length) return [];
    const from = Math.max(0, k.from);
    const to = Math.min(field.length, k.to);
    const lowest = field.bounds(from, Math.max(from, to - SAME_X))[0];
    if (lowest > k.radius + CLEARANCE) return [];
    return [
      {
        code: 'travel',
        severity: 'refuse',
        path: 'bench.brackets',
        message: `the ${k.what} stands up to ${mm(k.radius)} mm above the centre between x ${mm(from)} and ${mm(to)} mm, where the form is turned down to ${mm(lowest)} mm`,
        allowed: `nothing higher than ${mm(Math.max(0, lowest - CLEARANCE))} mm beside the form: move the ${k.what}, or hold the part elsewhere`,
        x: from,
        measure: { got: k.radius, bound: Math.max(0, lowest - CLEARANCE), unit: 'mm' },
        changes: otherBench(job, (b) => !b.brackets?.length),
      },
    ];
  });
}
