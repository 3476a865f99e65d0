/**
 * Planned passes → program text, plain RS-274 (NISTIR 6556, The NIST RS274/NGC Interpreter): absolute words, straight
 * moves, no canned cycles, no parameters, numbers without exponents.
 *
 * Guarantees: the first motion lifts the bit alone; no rapid moves the radial axis together with another; radial words are
 * never rounded toward the work; every block's F keeps every axis limit; a control that keeps short numbers never sees a
 * rotary word larger than `rotaryLimit`, if it can start its count again.
 */
import type { Problem } from '../../shared/problems.ts';
import { CLEARANCE } from '../../shared/tolerances.ts';
import { TURN } from '../../shared/units.ts';
import { type Offsets, type Position, ZERO_OFFSETS } from './control.ts';
import type { Job, PlannedProgram, Tool } from './job.ts';
import type { Motion } from './motion.ts';
import { comment } from './number-text.ts';
import { CUT, type Moves, type Pass, RAPID, type StageName } from './path.ts';
import { bitLine, firstModes, headerLines } from './program-header.ts';
import { type Extents, ProgramLines } from './program-lines.ts';
import { countProblems, rotaryLimit, wholeTurns } from './rotary-count.ts';
import { estimateTime, type TimeEstimate } from './time.ts';

/** Wait after the spindle was started, s. */
const SPIN_UP = 2;

/** Where a pass starts in the text. */
export interface PassLine {
  readonly stage: StageName;
  /** 1-based within its stage and bit. */
  readonly pass: number;
  /** 1-based over all programs of the job: the number by which cutting may be taken up again after a stop. */
  readonly restart: number;
  readonly label: string;
  /** 1-based line of its comment. */
  readonly line: number;
}

export interface Written {
  readonly text: string;
  /** Lines that move something. */
  readonly blocks: number;
  readonly passLines: readonly PassLine[];
  readonly motion: Motion;
  readonly time: TimeEstimate;
  /** Ranges of the words, program units. */
  readonly extents: Extents;
  /** Bits in the order of use, each from its 1-based line on; one bit has the whole file. */
  readonly sections: readonly { readonly tool: Tool; readonly line: number }[];
  /** Whether the rotary's count starts again somewhere (G92). */
  readonly rezeroed: boolean;
  readonly problems: readonly Problem[];
}

export interface WriteOptions {
  /** Place of this program in the run order, from 1. */
  readonly index: number;
  readonly of: number;
  /** Where the zeros lie, mm; default chuck-end face and rotary centre. */
  readonly offsets?: Offsets;
  /** Passes of the job in the programs before this one; default none. */
  readonly passesBefore?: number;
  /** Set where cutting is taken up again: passes of the first bit that are cut already, and whether the count was restarted among them. */
  readonly takeUp?: { readonly cut: number; readonly rezeroed: boolean };
}

/** Programs of a plan in run order: one a bit, or a single one with stops for the change, as the control wants it. */
export function writePrograms(job: Job, programs: readonly PlannedProgram[], offsets = ZERO_OFFSETS): Written[] {
  if (job.control.files === 'one')
    return programs.length ? [writeSections(job, programs, { index: 1, of: 1, offsets })] : [];
  let passesBefore = 0;
  return programs.map((p, i) => {
    const written = writeProgram(job, p, { index: i + 1, of: programs.length, offsets, passesBefore });
    passesBefore += p.passes.length;
    return written;
  });
}

/** The text of one bit's passes. Throws if there is none: a program without motion is a planner's fault. */
export const writeProgram = (job: Job, planned: PlannedProgram, options: WriteOptions): Written =>
  writeSections(job, [planned], options);

/**
 * The program that takes cutting up again at a pass: spindle up, lifted, speeds set, then that pass and all after it in its file.
 * @param programs of the whole plan @param restart number of the pass over the whole job, from 1
 * @param rezeroed whether the stopped program restarts the rotary's count, so that a shift may still be in force
 * @returns undefined where the plan has no such pass
 */
export function writeFrom(
  job: Job,
  programs: readonly PlannedProgram[],
  restart: number,
  rezeroed: boolean,
  offsets = ZERO_OFFSETS,
): Written | undefined {
  let passesBefore = 0;
  for (const [i, program] of programs.entries()) {
    const cut = restart - 1 - passesBefore;
    if (cut >= 0 && cut < program.passes.length) {
      const one = job.control.files === 'one';
      const rest = one ? programs.slice(i) : [program];
      return writeSections(
        job,
        rest.map((p, k) => (k ? p : nearZero(p, cut))),
        {
          index: one ? 1 : i + 1,
          of: one ? 1 : programs.length,
          offsets,
          passesBefore,
          takeUp: { cut, rezeroed },
        },
      );
    }
    passesBefore += program.passes.length;
  }
  return undefined;
}

/** The same passes turned back by whole turns, so that the one to start with needs no unwinding. */
function nearZero(program: PlannedProgram, first: number): PlannedProgram {
  const back = TURN * Math.round((program.passes[first]!.moves.theta[0] ?? 0) / TURN);
  return {
    ...program,
    passes: program.passes.map((p) => ({ ...p, moves: { ...p.moves, theta: p.moves.theta.map((t) => t - back) } })),
  };
}

/** Radius at which the bit stands clear of blank, chuck and tailstock, as far as the bench's room allows, mm. */
export function clearRadius(job: Job, tools: readonly Tool[]): number {
  const held = Math.max(job.safeRadius, ...job.keepOut.map((k) => k.radius + CLEARANCE));
  const room = job.bench.roomAbove - Math.max(...tools.map((t) => t.bit.stickOut));
  return held <= room ? held : job.safeRadius;
}

function writeSections(job: Job, programs: readonly PlannedProgram[], options: WriteOptions): Written {
  if (!programs.length || programs.some((p) => !p.passes.length)) throw new Error('a program without passes');
  const { control } = job;
  const offsets = options.offsets ?? ZERO_OFFSETS;
  const tools = programs.map((p) => p.tool);
  const clear = clearRadius(job, tools);
  const out = new ProgramLines(control, job.bench, offsets);
  const passLines: PassLine[] = [];
  const sections: { tool: Tool; line: number }[] = [];
  out.add(firstModes(control));
  // A program that was stopped half-way has not undone its shift of the rotary's count.
  if (options.takeUp?.rezeroed) out.add('G92.1');
  let before = options.passesBefore ?? 0;
  for (const [k, program] of programs.entries()) {
    out.stage = program.passes[0]!.stage;
    if (k > 0) changeBit(out, control, clear);
    sections.push({ tool: program.tool, line: out.lines.length });
    if (programs.length > 1) {
      out.add(`T${k + 1}`);
      out.add(bitLine(program.tool));
      out.add('(put it in, set the radial zero with it, then go on)');
      // M6 is the standard's word for the change; the stop after it holds the controls that take it for a mere mark.
      if (k > 0) for (const word of ['M6', 'M0']) out.add(word);
    }
    out.lift(clear);
    out.add(`S${program.tool.limits.rpm} M3`);
    out.add(`G4 P${SPIN_UP}`);
    out.motion.wait(SPIN_UP);
    const passes = numbered(program.passes, before).slice(k ? 0 : options.takeUp?.cut);
    before += program.passes.length;
    for (const { pass, number, of, restart } of passes) {
      out.stage = pass.stage;
      passLines.push({ stage: pass.stage, pass: number, restart, label: pass.label, line: out.lines.length });
      out.add(comment(`stage ${pass.stage}, pass ${number} of ${of}: ${pass.label}; restart ${restart}`));
      writePass(out, job, program.tool, pass, options.takeUp !== undefined && passLines.length === 1);
    }
  }
  out.lift(clear);
  // A flat is up again, so that the count can be set to zero where it stands: the next program need not wind all turns back.
  turnOn(out);
  out.perMinute();
  out.add('M5');
  if (out.rezeroed) out.add('G92.1');
  out.add('M30');

  const motion = out.motion.motion();
  const time = estimateTime(motion, job.bench, control);
  const head = headerLines({
    job,
    tools,
    index: options.index,
    of: options.of,
    offsets,
    extents: out.extents,
    blocks: out.blocks,
    time_s: time.total_s,
    rezeroed: out.rezeroed,
    ...(options.takeUp ? { restart: passLines[0]!.restart } : {}),
  });
  const shifted = <T extends { line: number }>(rows: readonly T[]): T[] =>
    rows.map((r) => ({ ...r, line: r.line + head.length + 1 }));
  return {
    text: `${[...head, ...out.lines].join('\n')}\n`,
    blocks: out.blocks,
    passLines: shifted(passLines),
    motion,
    time,
    extents: out.extents,
    sections: shifted(sections),
    rezeroed: out.rezeroed,
    problems: countProblems(job, out.extents, new Set(programs.flatMap((p) => p.passes.map((q) => q.stage)))),
  };
}

function changeBit(out: ProgramLines, control: Job['control'], clear: number): void {
  out.lift(clear);
  turnOn(out);
  // Each bit's passes count from zero.
  if (control.canRezero) out.startAgain();
  out.perMinute();
  out.add('M5');
  out.forget();
}

/** On to a whole number of turns, in the clear. */
function turnOn(out: ProgramLines): void {
  const here = out.where();
  if (here) out.travel(here.x, TURN * Math.ceil(here.theta / TURN - 1e-9));
}

/** @param before passes of the job before these */
function numbered(
  passes: readonly Pass[],
  before: number,
): { pass: Pass; number: number; of: number; restart: number }[] {
  const of = new Map<StageName, number>();
  for (const p of passes) of.set(p.stage, (of.get(p.stage) ?? 0) + 1);
  const seen = new Map<StageName, number>();
  return passes.map((pass, i) => {
    const number = (seen.get(pass.stage) ?? 0) + 1;
    seen.set(pass.stage, number);
    return { pass, number, of: of.get(pass.stage)!, restart: before + i + 1 };
  });
}

/** @param fresh whether it is reached from a start in the middle of the job */
function writePass(out: ProgramLines, job: Job, tool: Tool, pass: Pass, fresh: boolean): void {
  const { moves } = pass;
  if (!moves.count) return;
  let begin = 0;
  // Taken up again nothing is known of the way there: straight above the place, and down.
  if (fresh) while (begin + 1 < moves.count && moves.kind[begin + 1] === RAPID) begin++;
  const first = { x: moves.x[begin]!, r: moves.r[begin]!, theta: moves.theta[begin]! };
  if (out.where() && overruns(out, job, moves)) {
    if (out.radius() < job.safeRadius) out.lift(job.safeRadius);
    out.rezero();
  }
  // A pass is reached from anywhere: up to where everything turns clear, across, down.
  const here = out.where();
  const aside = !here || Math.abs(here.x - first.x) > 1e-3 || Math.abs(here.theta - first.theta) > 1e-5;
  let start = begin;
  if (!here || moves.kind[begin] === RAPID) {
    if (aside) out.lift(Math.max(out.radius(), first.r, job.safeRadius));
    rapid(out, job, first);
    start = begin + 1;
  }
  let at: Position = start > begin ? first : here!;
  for (let i = start; i < moves.count; i++) {
    const to = { x: moves.x[i]!, r: moves.r[i]!, theta: moves.theta[i]! };
    if (moves.kind[i] === RAPID) rapid(out, job, to);
    else {
      if (moves.kind[i] === CUT && !(moves.feed[i]! > 0)) throw new Error(`a cut without feed in ${pass.label}`);
      feedTurns(out, job, tool, at, to, moves.feed[i]!);
    }
    at = to;
  }
}

/** Lift, then travel, then drop: the axes of a rapid need not arrive together on a small control. */
function rapid(out: ProgramLines, job: Job, to: Position): void {
  const long = job.control.canRezero && Math.abs(out.rotaryWord(to.theta)) > rotaryLimit(job.control);
  if (long && out.where()) {
    out.lift(Math.max(out.radius(), to.r, job.safeRadius));
    out.rezero();
  } else if (to.r > out.radius()) out.lift(to.r);
  out.travel(to.x, to.theta);
  out.lift(to.r);
}

/** Whether a pass would count beyond the control's numbers, and starting the count again would help. */
function overruns(out: ProgramLines, job: Job, moves: Moves): boolean {
  if (!job.control.canRezero || Math.abs(out.rotaryNow) < wholeTurns(job.control) / 2) return false;
  const limit = rotaryLimit(job.control);
  for (let i = 0; i < moves.count; i++) if (Math.abs(out.rotaryWord(moves.theta[i]!)) > limit) return true;
  return false;
}

/** A block at feed; where the rotary's count would get too long it is broken at a whole turn and the count starts again. */
function feedTurns(out: ProgramLines, job: Job, tool: Tool, from: Position, to: Position, feed: number): void {
  const limit = rotaryLimit(job.control);
  const turns = wholeTurns(job.control);
  let at = from;
  if (job.control.canRezero && turns > 0)
    while (Math.abs(out.rotaryWord(to.theta)) > limit) {
      const a0 = out.rotaryWord(at.theta);
      const a1 = out.rotaryWord(to.theta);
      const share = (Math.sign(a1) * turns - a0) / (a1 - a0);
      if (share > 0 && share < 1) {
        const mid = {
          x: at.x + share * (to.x - at.x),
          r: at.r + share * (to.r - at.r),
          theta: at.theta + share * (to.theta - at.theta),
        };
        out.feed(at, mid, feed);
        at = mid;
      }
      const low = out.where()!;
      out.lift(Math.max(job.safeRadius, low.r));
      out.rezero();
      out.feed(out.where()!, low, tool.limits.plungeFeed);
    }
  out.feed(at, to, feed);
}
