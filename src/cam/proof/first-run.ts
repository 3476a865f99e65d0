/** Proves a program that is only to be watched: spindle standing, nothing touched, every limit kept. Reads text, as the proof does. */
import type { Finding } from '../../../shared/problems.ts';
import type { KeepOut } from '../blank.ts';
import { keepOutContact, stemsOf } from './clear.ts';
import { complaintsOf, Findings, type Note } from './findings.ts';
import { checkBits, checkRotary, checkSpeeds, checkStart, checkTravel } from './limits.ts';
import { follow, OFF } from './motion.ts';
import { circumscribed } from './stock.ts';
import type { ProgramText, ProofJob } from './verdict.ts';
import type { Place } from './walk.ts';

const num = (n: number) => n.toFixed(2);

/**
 * @param job of the part, its cutting programs aside @param program text, and the bit that is in the spindle
 * @param span of x that the cutting programs travel, mm: all programs share one zero
 * @returns findings; none of severity `refuse` means that it may be handed over
 */
export function proveFirstRun(
  job: ProofJob,
  program: ProgramText,
  span: { readonly low: number; readonly high: number },
): readonly Finding[] {
  const findings = new Findings();
  const tell = (note: Parameters<Findings['add']>[0]) => findings.add(note);
  const row = (
    code: Note['code'],
    line: number,
    at: { x: number; theta: number },
    amount: number,
    say: string,
    fix: string,
  ) => tell({ code, severity: 'refuse', file: program.file, line, ...at, amount, say, fix });
  const nowhere = { x: 0, theta: 0 };
  const motions = follow(program.text, job.control, job.bench, job.offsets, complaintsOf(program.file, tell));
  if (motions.count === 0)
    row('line-forbidden', 0, nowhere, 0, 'the program holds no motion', 'Write the program again');
  checkStart(job, program, motions, tell);
  checkTravel(job, program, motions, { ...span }, tell);
  checkSpeeds(job, program, motions, tell);
  checkBits(program, motions, tell);
  checkRotary(job, program, motions, new Int32Array(motions.count), new Set(), tell);

  // The blank counts as the round that its corners sweep: at this height nobody asks where they stand.
  const { from, to } = job.blank;
  const blank: KeepOut = { from, to, radius: circumscribed(job.blank), what: 'blank' };
  const stems = stemsOf(program.bit);
  for (let k = 0; k < motions.count; k++) {
    const line = motions.line[k]!;
    if (motions.spindle[k] !== OFF)
      row(
        'spindle-range',
        line,
        nowhere,
        0,
        'the spindle runs in a program that is only to be watched',
        'Leave M3 out',
      );
    const at = (i: number): Place => ({ x: motions.x[i]!, r: motions.r[i]!, theta: motions.theta[i]! });
    const there = at(k);
    if (k === 0 || Number.isNaN(there.x)) continue;
    const here = at(k - 1);
    if (Number.isNaN(here.x)) here.x = there.x;
    const contact = keepOutContact(stems, [...job.keepOut, blank], here, there, motions.rapid[k] === 1);
    if (contact)
      row(
        'keep-out',
        line,
        { x: contact.x, theta: there.theta },
        contact.depth,
        `the ${contact.stem.what} runs ${num(contact.depth)} mm into the ${contact.what} at x ${num(contact.x)}`,
        'Lift higher',
      );
  }
  return findings.list();
}
