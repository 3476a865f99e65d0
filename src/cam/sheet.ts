/** The setup sheet: one self-contained page for the person at the bench, to be printed. */
import type { Problem } from '../../shared/problems.ts';
import { wordsFor, wordsPerTurn } from './control.ts';
import type { Job, Tool } from './job.ts';
import type { Price } from './price.ts';
import { clock } from './program-header.ts';
import type { Extents } from './program-lines.ts';
import { cautions, centreText, checks, GUARD_NOTE } from './sheet/cautions.ts';
import { endView, sideView, sizeText } from './sheet/drawing.ts';
import { lengthsIn, list, plain, safe, table } from './sheet/html.ts';
import { SHEET_STYLE } from './sheet/style.ts';
import type { Strength } from './strength.ts';

export interface SheetProgram {
  readonly file: string;
  readonly tools: readonly Tool[];
  readonly stages: readonly { readonly stage: string; readonly passes: number }[];
  readonly extents: Extents;
  readonly blocks: number;
  readonly time_s: number;
}

export interface SheetFacts {
  readonly job: Job;
  readonly about: string;
  readonly notes: string;
  /** Whether the part guards or carries people. */
  readonly guard: boolean;
  /** Whether lengths are told in inches as well. */
  readonly inch: boolean;
  readonly programs: readonly SheetProgram[];
  /** What fit and plan want said. */
  readonly problems: readonly Problem[];
  readonly proof: {
    readonly verdict: string;
    readonly deepestGouge: number;
    readonly restP99: number;
    readonly tolerance: number;
  };
  /** What the proof wants said, one sentence each. */
  readonly findings: readonly string[];
  readonly strength: Strength;
  readonly price: Price;
}

/** @returns a whole HTML document without anything from outside */
export function sheetHtml(f: SheetFacts): string {
  const { job } = f;
  const len = lengthsIn(f.inch);
  const proven = f.proof.verdict === 'proven';
  const time = f.programs.reduce((sum, p) => sum + p.time_s, 0);
  const section = (title: string, body: string) => (body ? `<section><h2>${title}</h2>${body}</section>` : '');
  const said = [
    ...f.problems.filter((p) => p.code !== 'hazard').map((p) => sentence(p)),
    ...f.findings.map((t) => safe(t)),
  ];
  return `<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<title>${safe(job.name)}: setup sheet</title><style>${SHEET_STYLE}</style></head><body>
<header><h1>${safe(job.name)}</h1>
${f.about ? `<p class="lead">${safe(f.about)}</p>` : ''}
<p><span class="state${proven ? '' : ' no'}">${
    proven
      ? `Proven: no gouge deeper than ${plain(f.proof.deepestGouge, 3)} mm (allowed ${plain(f.proof.tolerance, 3)} mm)`
      : 'UNPROVEN: do not cut with these programs'
  }</span></p>
<p>${safe(job.bench.label)}, ${safe(job.control.label)}. About ${clock(time)} of cutting in ${f.programs.length} program${f.programs.length === 1 ? '' : 's'}.</p></header>
${f.guard ? `<p class="warn">${GUARD_NOTE}</p>` : ''}
${section('Stock', stock(f))}
${section('Zeros', zeros(f))}
${section('Bits and programs, in the order of cutting', programTable(f))}
${section('Worth knowing', list(said))}
${section('Before the spindle starts', `<div class="tick">${list(checks(job).map(safe))}</div>`)}
${section('While it runs, and after', list(cautions(job).map(safe)))}
${section('Load and price', closing(f))}
${f.notes ? section('Notes', `<p>${safe(f.notes).replace(/\n/g, '<br>')}</p>`) : ''}
<footer>Stock ${sizeText(job.blank, len)}, ${safe(job.material.label)}. Times are estimates; the first part tells.</footer>
</body></html>
`;
}

const sentence = (p: Problem): string =>
  `${p.severity === 'warn' ? '<span class="warn">Mind:</span> ' : ''}${safe(p.message)}${p.allowed ? ` (${safe(p.allowed)})` : ''}.`;

function stock(f: SheetFacts): string {
  const { job } = f;
  const { blank, holding } = job;
  const len = lengthsIn(f.inch);
  const rows = [
    `${safe(job.material.label)}, ${sizeText(blank, len)}, ${len(blank.to - blank.from)} long. Sound, straight, ends square.`,
    centreText(job),
    `Pencil a line ${len(holding.chuckGrip + holding.chuckStub)} from the chuck end: the form starts there. Grip ${len(holding.chuckGrip)} in the jaws, a flat up.`,
    holding.tailstock
      ? `Bring the tailstock’s centre into the other mark; ${len(holding.tailStub)} of stock stay between form and tailstock.`
      : 'No tailstock.',
    `The corners swing ${len(job.safeRadius)} around the centre, clearance included.`,
  ];
  return `<div class="two"><figure>${endView(job, len)}<figcaption>End of the stock; the arrow is up.</figcaption></figure>${list(rows, 'ol')}</div>
<figure>${sideView(job, len, job.control.axial.letter)}<figcaption>In the machine, chuck on the left; thickness may be drawn larger than length.</figcaption></figure>`;
}

function zeros(f: SheetFacts): string {
  const { control, blank } = f.job;
  const [ax, ra, ro] = [control.axial.letter, control.radial.letter, control.rotary.letter];
  const top = blank.section === 'rectangle' ? blank.height / 2 : blank.width / 2;
  const at = wordsFor(control, 0, top, 0);
  const unit = control.units === 'inch' ? 'inches' : 'mm';
  const quarter = plain(wordsPerTurn(control) / 4, 4);
  const away = control.rotary.sign > 0 ? 'away from' : 'towards';
  return list([
    `<b>${ax}0</b> is the pencil line, the form’s face at the chuck. ${ax} ${control.axial.scale > 0 ? 'grows' : 'falls'} toward the tailstock.`,
    `<b>${ra}0</b> is the rotary centre. Touch the bit on the flat that faces up and call that place ${ra}${plain(at.radial, control.decimals.linear)} (${unit}); measure the stock first, half of its true height counts.`,
    `<b>${ro}0</b> has a flat of the stock facing straight up: lay a level on it. One turn is ${plain(wordsPerTurn(control), 4)} in ${ro}.`,
    `<b>Sense:</b> jog ${ro} by +${quarter}, a quarter turn. The top of the stock must go ${away} a person who has the chuck on the left. If it goes the other way, twists and letters come out mirrored: change the turning sense of the control in the document.`,
    `Set zeros in the control’s first work offset (G54). Every bit gets its own ${ra} zero; ${ax} and ${ro} stay.`,
  ]);
}

function programTable(f: SheetFacts): string {
  const { control } = f.job;
  const len = lengthsIn(f.inch);
  const d = control.decimals;
  const range = (letter: string, [a, b]: [number, number], decimals: number) =>
    `${letter} ${plain(a, decimals)} … ${plain(b, decimals)}`;
  const rows = f.programs.map((p, i) => [
    String(i + 1),
    `<code>${safe(p.file)}</code>`,
    p.tools.map((t) => `${safe(t.bit.label)}, stick-out ${len(t.bit.stickOut)}`).join('<br>'),
    p.tools.map((t) => `${t.limits.rpm} rpm`).join('<br>'),
    p.stages.map((s) => `${safe(s.stage)} (${s.passes})`).join(', '),
    clock(p.time_s),
    [
      range(control.axial.letter, p.extents.axial, d.linear),
      range(control.radial.letter, p.extents.radial, d.linear),
      range(control.rotary.letter, p.extents.rotary, d.rotary),
    ].join('<br>'),
  ]);
  return table(['', 'Program', 'Bit', 'Spindle', 'Stages (passes)', 'Time', `Extents, ${control.units}`], rows);
}

function closing(f: SheetFacts): string {
  const { strength, price } = f;
  const deg = strength.safetyFactor;
  return list([
    `Under the bit the part gives at most ${plain(strength.worstDeflection, 3)} mm (at ${plain(strength.atX, 0)} mm from the chuck-end face), with ${plain(deg, 1)} times the strength it needs.`,
    `Pushes at most ${plain(Math.max(strength.roughingForce, strength.finishingForce), 0)} N.`,
    `One part: material ${price.material.toFixed(2)}, bench ${price.machine.toFixed(2)}, labour ${price.labour.toFixed(2)}, together ${price.unit.toFixed(2)} ${safe(price.currency)}.`,
  ]);
}
