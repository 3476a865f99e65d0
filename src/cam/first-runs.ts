/**
 * Two short programs that come before the first cut, spindle standing: one turn of the rotary and back, and the way along the
 * part in air. Plain RS-274 like the others, read back by the proof like the others.
 */
import { perMinute, perSecond, TURN } from '../../shared/units.ts';
import { contactLength, feedWord, rotaryMax } from './block-time.ts';
import { type Offsets, positionOf, wordsFor, wordsPerTurn, ZERO_OFFSETS } from './control.ts';
import type { Job } from './job.ts';
import { comment, plainNumber, roundUp } from './number-text.ts';
import { bitLine, clock, firstModes } from './program-header.ts';
import { ProgramLines } from './program-lines.ts';
import { estimateTime } from './time.ts';
import { clearRadius, type Written } from './write.ts';

export interface FirstRun {
  readonly name: 'turn-test' | 'air-run';
  readonly text: string;
  readonly time_s: number;
}

/** Seconds for one turn of the test, if the rotary can; slow enough to be watched, quick enough to be done in a minute. */
const TURN_TIME = 20;
/** Standing still where a person has to look, s. */
const LOOK = 4;
/** Speed of the way in air, mm/min, if the axes can. */
const AIR_FEED = 1500;
/** Stations of the outline that is followed in air. */
const STATIONS = 60;
/** A bend of less than this between stations is not drawn, mm. */
const STRAIGHT = 0.02;

/** Height at which the bits of every program stand clear. */
const heightOf = (job: Job): number => {
  const { roughing, finishing, detail, drills } = job.tools;
  return clearRadius(job, [roughing, finishing, ...detail, ...drills]);
};

const setUp = (job: Job) => [firstModes(job.control), 'M5'];
const CAUTIONS = [
  'the spindle stands: nothing is cut; a hand on the stop',
  'chuck key out, hands, sleeves and cables away: the rotary turns by itself',
];

/** One turn and back of the rotary alone. @param job whose rotary it is @param offsets of the radial zero, mm */
export function turnTest(job: Job, offsets: Offsets = ZERO_OFFSETS): FirstRun {
  const { control, bench } = job;
  const [ra, ro] = [control.radial.letter, control.rotary.letter];
  const { linear, rotary } = control.decimals;
  const turn = wordsFor(control, 0, 0, TURN).rotary;
  const time = Math.max(TURN_TIME, TURN / rotaryMax(bench));
  const f = feedWord(control, { axial: 0, radial: 0, rotary: turn }, time);
  const feed = `F${plainNumber(f.value, f.decimals)}`;
  const at = (word: number) => `${ro}${plainNumber(word, rotary)}`;
  const inverse = control.feedRule === 'inverse-time';
  const go = (word: number) => `G1 ${at(word)} ${feed}`;
  const total = 2 * f.time + 3 * LOOK;
  const lines = [
    comment(`${job.name}: turn test, one turn of the rotary and back, about ${clock(total)}`),
    ...CAUTIONS.map(comment),
    comment('pencil a mark on the top of the blank and one on the bed beside it, in line'),
    comment(
      `one turn is ${plainNumber(wordsPerTurn(control), 6)} in ${ro}: the marks must meet after it, and again after the way back`,
    ),
    bitLine(job.tools.roughing),
    ...setUp(job),
    `G0 ${ra}${plainNumber(wordsFor(control, 0, roundUp(heightOf(job), linear), 0, offsets).radial, linear)}`,
    `G0 ${at(0)}`,
    `G4 P${LOOK}`,
    ...(inverse ? ['G93'] : []),
    go(turn),
    comment('one turn: do the marks meet?'),
    `G4 P${LOOK}`,
    go(0),
    comment('and back: do they meet again?'),
    `G4 P${LOOK}`,
    ...(inverse ? ['G94'] : []),
    'M30',
  ];
  return { name: 'turn-test', text: `${lines.join('\n')}\n`, time_s: total };
}

/** How far the programs take the bit along the axis. @returns x, mm */
export function axialEnds(job: Job, programs: readonly Written[], offsets: Offsets = ZERO_OFFSETS) {
  const xs = programs.flatMap((p) =>
    p.extents.axial.map((axial) => positionOf(job.control, { axial, radial: 0, rotary: 0 }, offsets).x),
  );
  return { low: Math.min(...xs), high: Math.max(...xs) };
}

/** Highest radius of the form at stations from tail to chuck, mm above its lowest station. */
function outlineBack(job: Job): { x: number; up: number }[] {
  const { field } = job;
  const rows = Array.from({ length: STATIONS + 1 }, (_, i) => {
    const x = field.length * (1 - i / STATIONS);
    return { x, up: field.bounds(x, x)[1] };
  });
  const low = Math.min(...rows.map((r) => r.up));
  // Where the outline runs straight a line needs its ends only.
  const bends = rows.filter((r, i) => {
    const [a, b] = [rows[i - 1], rows[i + 1]];
    return !a || !b || Math.abs(a.up - 2 * r.up + b.up) > STRAIGHT;
  });
  return bends.map((r) => ({ x: r.x, up: r.up - low }));
}

/**
 * The way in air: over the form's two faces, to both ends of the axial travel, once round, and along the outline lifted clear of the blank.
 * @param programs as written: how far they travel
 */
export function airRun(job: Job, programs: readonly Written[], offsets: Offsets = ZERO_OFFSETS): FirstRun {
  const { control, bench, field } = job;
  const out = new ProgramLines(control, bench, offsets);
  const high = heightOf(job);
  const ends = axialEnds(job, programs, offsets);
  const stations = outlineBack(job);
  const room = bench.roomAbove - job.tools.roughing.bit.stickOut - high;
  const highest = Math.max(...stations.map((s) => s.up));
  const flat = highest > 0 ? Math.min(1, Math.max(0, room) / highest) : 1;
  const look = (what: string) => {
    out.add(comment(what));
    out.add(`G4 P${LOOK}`);
    out.motion.wait(LOOK);
  };
  const to = (x: number, r: number, theta: number) => {
    const here = out.where()!;
    const turned = theta - here.theta;
    const straight = Math.hypot(x - here.x, r - here.r);
    // In air what counts is that the eye can follow, whatever radius the bit stands at.
    const time = Math.max(straight / perSecond(AIR_FEED), (TURN_TIME * Math.abs(turned)) / TURN);
    const length = contactLength(x - here.x, here.r, r, turned);
    if (time > 0) out.feed(here, { x, r, theta }, perMinute(length / time));
  };
  for (const line of setUp(job)) out.add(line);
  out.lift(high);
  out.travel(0, 0);
  look("the bit stands over the pencil line: the form's face at the chuck; a flat of the blank is up");
  to(ends.low, high, 0);
  look('as far as any program goes toward the chuck: nothing near?');
  to(ends.high, high, 0);
  look('as far as any program goes toward the tailstock: nothing near?');
  to(field.length, high, 0);
  look("the form's face at the tailstock");
  out.add(comment(`along the outline, lifted clear of the blank${flat < 1 ? ' and drawn flatter' : ''}`));
  for (const s of stations) to(s.x, high + flat * s.up, 0);
  to(0, high, 0);
  to(0, high, TURN);
  look('once round: every corner passed under the bit with air between');
  out.lift(high);
  out.perMinute();
  out.add('M30');
  const time = estimateTime(out.motion.motion(), bench, control).total_s;
  const lines = [
    comment(`${job.name}: air run, about ${clock(time)}`),
    ...CAUTIONS.map(comment),
    comment('run it with all zeros set and the bit of the first program in'),
    bitLine(job.tools.roughing),
    ...out.lines,
  ];
  return { name: 'air-run', text: `${lines.join('\n')}\n`, time_s: time };
}
