/** Limits of bench and control that need no wood: travels, speeds, the start, the spindle, the numbers themselves. */
import { LIMIT_SLACK, ROTARY_GRAIN, SPEED_SLACK } from '../../../shared/tolerances.ts';
import { degrees, perMinute, perSecond, radians, TURN } from '../../../shared/units.ts';
import type { Note } from './findings.ts';
import { type Motions, rotaryGrain_deg } from './motion.ts';
import { circumscribed } from './stock.ts';
import type { ProgramText, ProofJob } from './verdict.ts';

export type Tell = (note: Note) => void;
const num = (n: number, digits = 2) => n.toFixed(digits);

/** Height at which everything turns clear of the whole job, mm. */
export function clearHeight(job: ProofJob): number {
  return Math.max(circumscribed(job.blank), ...job.keepOut.map((k) => k.radius));
}

/** The first motion lifts the spindle and nothing else, and no other word moves before its place is known. */
export function checkStart(job: ProofJob, program: ProgramText, motions: Motions, tell: Tell): void {
  if (motions.count === 0) return;
  const high = clearHeight(job);
  const fix = 'Lift to a height clear of blank and chuck, alone, before anything else moves';
  const say = (k: number, message: string) =>
    tell({
      code: 'start-not-lifted',
      severity: 'refuse',
      file: program.file,
      line: motions.line[k]!,
      x: motions.x[k]!,
      theta: motions.theta[k]!,
      amount: 0,
      say: message,
      fix,
    });
  if (!Number.isNaN(motions.x[0]!) || !Number.isNaN(motions.theta[0]!)) {
    say(0, 'the first motion is not a lift alone: nobody knows where the bit stands');
    return;
  }
  for (let k = 0; k < motions.count; k++) {
    if (motions.r[k]! < high)
      say(
        k,
        `the start stands only ${num(motions.r[k]!)} mm above the rotary centre, ${num(high)} mm clears blank and chuck`,
      );
    // Known after this motion; the motion that tells the last word still starts from somewhere unknown.
    if (!Number.isNaN(motions.x[k]!) && !Number.isNaN(motions.theta[k]!)) return;
  }
}

/** Spans and highest and lowest places, over all programs: they share one zero. */
export function checkTravel(
  job: ProofJob,
  program: ProgramText,
  motions: Motions,
  span: { low: number; high: number },
  tell: Tell,
): void {
  const { bench } = job;
  const row = (k: number, amount: number, key: string, say: string, fix: string, code: Note['code'] = 'travel-limit') =>
    tell({
      code,
      severity: 'refuse',
      file: program.file,
      line: motions.line[k]!,
      x: motions.x[k]!,
      theta: motions.theta[k]!,
      amount,
      say,
      fix,
      key,
    });
  for (let k = 0; k < motions.count; k++) {
    const x = motions.x[k]!;
    const r = motions.r[k]!;
    const tool = motions.tool[k]!;
    const bit = tool === 0 ? program.bit : (program.changes?.[tool - 1]?.bit ?? program.bit);
    if (!Number.isNaN(x)) {
      span.low = Math.min(span.low, x);
      span.high = Math.max(span.high, x);
      const length = span.high - span.low;
      if (length > bench.axialTravel + LIMIT_SLACK)
        row(
          k,
          length,
          'axial',
          `the words along the axis span ${num(length)} mm, the bench travels ${num(bench.axialTravel)} mm`,
          'Shorten the part or take a longer bench',
        );
    }
    if (r + bit.stickOut > bench.roomAbove + LIMIT_SLACK)
      row(
        k,
        r,
        'radial',
        `the tip is lifted to ${num(r)} mm, with ${num(bit.stickOut)} mm of bit that is more than the bench's ${num(bench.roomAbove)} mm of room above the centre`,
        'Lift less, clamp the bit shorter or take a thinner blank',
      );
    if (r < -bench.bedBelow + LIMIT_SLACK)
      row(
        k,
        -r,
        'bed',
        `the tip goes ${num(-r)} mm below the rotary centre, the bed is ${num(bench.bedBelow)} mm below it`,
        'Check the zero of the spindle height',
        'bed-contact',
      );
  }
}

/** Speeds that the block times imply, and how fast the lines come. */
export function checkSpeeds(job: ProofJob, program: ProgramText, motions: Motions, tell: Tell): void {
  const { bench } = job;
  const rotaryMax = perSecond(bench.rotary.maxSpeed) * TURN;
  const slack = 1 + SPEED_SLACK;
  for (let k = 1; k < motions.count; k++) {
    if (motions.rapid[k]) continue;
    const t = motions.time[k]!;
    const rate = (a: Float64Array) => Math.abs(a[k]! - a[k - 1]!) / t;
    const vx = rate(motions.x);
    const vr = rate(motions.r);
    const vt = rate(motions.theta);
    const row = (key: string, amount: number, say: string, severity: Note['severity'] = 'refuse') =>
      tell({
        code: 'speed-limit',
        severity,
        file: program.file,
        line: motions.line[k]!,
        x: motions.x[k]!,
        theta: motions.theta[k]!,
        amount,
        say,
        fix: 'Lower F on the line',
        key,
      });
    if (vx > perSecond(bench.axialMax) * slack)
      row('axial', vx, `the axis runs ${num(perMinute(vx), 0)} mm/min, its limit is ${bench.axialMax}`);
    if (vr > perSecond(bench.radialMax) * slack)
      row(
        'radial',
        vr,
        `the spindle goes up or down at ${num(perMinute(vr), 0)} mm/min, its limit is ${bench.radialMax}`,
      );
    if (vt > rotaryMax * slack)
      row(
        'rotary',
        vt,
        `the rotary turns ${num(perMinute(degrees(vt)), 0)}°/min (${num(perMinute(vt / TURN), 1)} turns a minute), its limit is ${num(perMinute(degrees(rotaryMax)), 0)}°/min`,
      );
    if (t > 0 && t * bench.blocksPerSecond * slack < 1)
      row(
        'blocks',
        1 / t,
        `the line lasts ${num(1000 * t, 1)} ms, the control takes ${bench.blocksPerSecond} lines a second`,
        'warn',
      );
  }
}

/** Rotary words so large that the control's numbers grow coarse; the rotary turning back within the finishing spiral. */
export function checkRotary(
  job: ProofJob,
  program: ProgramText,
  motions: Motions,
  stageOf: Int32Array,
  finishing: ReadonlySet<number>,
  tell: Tell,
): void {
  const grain = rotaryGrain_deg(motions.rotaryWord.most, job.control);
  if (grain > ROTARY_GRAIN) {
    const radius = circumscribed(job.blank);
    const shift = radians(grain) * radius;
    tell({
      code: 'rotary-precision',
      // A control that cannot start its count again has no other way; then the coarse count is only told while it hides in the tolerance.
      severity: job.control.canRezero || shift > job.tolerance / 3 ? 'refuse' : 'warn',
      file: program.file,
      line: motions.rotaryWord.line,
      x: 0,
      theta: 0,
      amount: grain,
      say: `the rotary word grows to ${num(motions.rotaryWord.most, 1)}, where the control's numbers lie ${num(grain, 4)}° apart (${num(shift, 4)} mm at the blank's corner)`,
      fix: job.control.canRezero
        ? 'Re-zero the rotary word with G92 at a lifted place'
        : 'Split the program or widen the pitch of the spiral',
    });
  }
  let last = 0;
  for (let k = 1; k < motions.count; k++) {
    if (motions.rapid[k] || !finishing.has(stageOf[k]!)) {
      last = 0;
      continue;
    }
    const d = motions.theta[k]! - motions.theta[k - 1]!;
    if (d === 0 || Number.isNaN(d)) continue;
    if (last !== 0 && Math.sign(d) !== last)
      tell({
        code: 'rotary-reverses',
        severity: 'warn',
        file: program.file,
        line: motions.line[k]!,
        x: motions.x[k]!,
        theta: motions.theta[k]!,
        amount: Math.abs(d),
        say: `the rotary turns back by ${num(degrees(Math.abs(d)))}° within the finishing spiral`,
        fix: 'Let the rotary run one way, or a slack gear will leave a mark',
      });
    last = Math.sign(d);
  }
}

/** Bit names in the header and tool numbers against what is declared. */
export function checkBits(program: ProgramText, motions: Motions, tell: Tell): void {
  const declared = [program.bit, ...(program.changes ?? []).map((c) => c.bit)];
  const row = (line: number, severity: Note['severity'], say: string) =>
    tell({
      code: 'wrong-bit',
      severity,
      file: program.file,
      line,
      x: 0,
      theta: 0,
      amount: 0,
      say,
      fix: 'Write the program for the bit that is declared, or declare the bit that it names',
    });
  for (const { line, name } of motions.bitNames)
    if (!declared.some((b) => b.id === name))
      row(line, 'refuse', `the program names bit ${name}, declared is ${declared.map((b) => b.id).join(', ')}`);
  if (!motions.bitNames.length) row(0, 'warn', `the program does not name its bit, declared is ${program.bit.id}`);
  const numbers = new Set(motions.toolWords.map((t) => t.tool));
  if (declared.length === 1 && numbers.size > 1)
    row(
      motions.toolWords[motions.toolWords.length - 1]!.line,
      'refuse',
      `the program calls for tools ${[...numbers].join(' and ')}, one bit is declared`,
    );
  if (declared.length > 1)
    for (const { line, tool } of motions.toolWords)
      if (tool < 1 || tool > declared.length)
        row(line, 'refuse', `the program calls for tool ${tool}, ${declared.length} bits are declared`);
}
