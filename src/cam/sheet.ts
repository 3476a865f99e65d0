/** The setup sheet: one self-contained page of HTML for the person at the bench, two pages of paper: setting up, and running. */
import type { Problem } from '../../shared/problems.ts';
import { blankVolume } from './blank.ts';
import { clock } from './program-header.ts';
import { cautions, centreText, checks, GUARD_NOTE } from './sheet/cautions.ts';
import { endView, sideView, sizeText } from './sheet/drawing.ts';
import type { SheetFacts } from './sheet/facts.ts';
import { gougeText, type LengthText, lengthsIn, list, plain, safe } from './sheet/html.ts';
import { airText } from './sheet/in-air.ts';
import { nextBitsText } from './sheet/next-bits.ts';
import { fitting, linesLeft, linesOf, shortened } from './sheet/room.ts';
import { rotarySection } from './sheet/rotary.ts';
import { bitRows, bitsDrawing, programLine, runTable } from './sheet/runs.ts';
import { stops } from './sheet/stops.ts';
import { SHEET_STYLE } from './sheet/style.ts';
import { zeroDrawings, zeroList } from './sheet/zeros.ts';

/** A name longer than this is set smaller. */
const LONG_NAME = 36;
/** Lines of a person's notes at the most; the document has all. */
const NOTES = 5;
/** Lines that a title takes. */
const TITLE = 1.7;

/** @returns a whole HTML document without anything from outside */
export function sheetHtml(f: SheetFacts): string {
  const { job } = f;
  let number = 0;
  const section = (title: string, body: string) =>
    body ? `<section><h2><b>${++number}</b> ${title}</h2>${body}</section>\n` : '';
  return `<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<title>${safe(job.name)}: setup sheet</title><style>${SHEET_STYLE}</style></head><body>
<div class="page">
${settingUp(f, section)}</div>
<div class="page">
${running(f, section)}</div>
</body></html>
`;
}

type Section = (title: string, body: string) => string;

function settingUp(f: SheetFacts, section: Section): string {
  const { job } = f;
  const len = lengthsIn(f.inch);
  const time = f.programs.reduce((sum, p) => sum + p.time_s, 0);
  const turns = f.programs.map((p) => p.extents.rotary);
  const range = [Math.min(...turns.map((t) => t[0])), Math.max(...turns.map((t) => t[1]))] as const;
  const { letter, linear } = job.control.rotary;
  return `<header><div><h1${job.name.length > LONG_NAME ? ' class="long"' : ''}>${safe(job.name)}</h1>
<p>${safe(job.bench.label)}; ${safe(job.control.label)}. ${f.programs.length} program${f.programs.length === 1 ? '' : 's'}, about ${clock(time)}.</p></div>${state(f)}</header>
${f.about && !f.guard ? `<p>${safe(shortened(f.about, 1))}</p>` : ''}
${f.guard ? `<p class="warn guard">${GUARD_NOTE}</p>` : ''}
${section('Saw, mark, mount', stock(f, len))}
${section('Zeros', `<div class="beside wide">${zeroDrawings(job)}${zeroList(job, len)}</div>`)}
${section(linear ? `The rotary on the ${letter} output` : 'The rotary’s output', rotarySection(job, range))}`;
}

function running(f: SheetFacts, section: Section): string {
  const { job } = f;
  const [todo, mind, stop] = [checks(job, f.firstRuns), cautions(job), stops(job)];
  const len = lengthsIn(f.inch);
  const bits = f.programs.flatMap((p) => p.tools);
  const told = [nextBitsText(job, bits, len), airText(job, f.programs, len)].filter(Boolean);
  const left = linesLeft({
    bitRows: bitRows(bits.length),
    firstRuns: f.firstRuns.length,
    programs: f.programs.map((p) => ({ file: p.file, line: programLine(p, job).join(' ') })),
    told,
    checks: todo,
    lists: [mind, stop],
  });
  const notes = shortened(f.notes, Math.min(NOTES, left - TITLE));
  const boxes = todo.map((c) => `<li>${safe(c)}</li>`).join('');
  return `<header class="again"><span>${safe(job.name)}</span><span>page 2 of 2</span></header>
${section('Bits, in this order', bitsDrawing(bits, len))}
${section('Run, in this order', `${runTable(f)}${list(told.map(lead))}`)}
${section('Before the spindle starts', `<ul class="tick columns">${boxes}</ul>`)}
${section('While it runs, and after', list(mind.map(safe)))}
${section('After a stop', list(stop.map(safe), 'ol'))}
${section('Notes', notes && `<p>${safe(notes).replace(/\n/g, '<br>')}</p>`)}
${section('Worth knowing', said(f, left - (notes ? linesOf(notes) + TITLE : 0)))}
${left < 0 ? '' : `<footer>${closing(f)}</footer>`}
`;
}

/** The words up to a colon stand out. */
const lead = (text: string): string => safe(text).replace(/^[^:]*:/, '<b>$&</b>');

function state(f: SheetFacts): string {
  const { verdict, deepestGouge, tolerance } = f.proof;
  return verdict === 'proven'
    ? `<div class="state">Proven: ${gougeText(deepestGouge, tolerance)}</div>`
    : '<div class="state no">UNPROVEN: do not cut with these programs</div>';
}

function stock(f: SheetFacts, len: LengthText): string {
  const { job } = f;
  const { blank, material } = job;
  const kg = (blankVolume(blank) * material.density) / 1e9;
  const { holding } = job;
  const round = blank.section === 'round';
  const rows = [
    `<b>Cut list: ${f.parts} × ${safe(material.label)}, ${sizeText(blank, len)}, ${len(blank.to - blank.from)} long</b> (${plain(kg, 2)} kg each). Sound, straight, ends square.`,
    centreText(job),
    ...(holding.tenon
      ? [
          `First turn a round end on the chuck end, ø ${len(holding.tenon.diameter)}, ${len(holding.chuckGrip)} long, true to the centre.`,
        ]
      : []),
    `Pencil a line all round, ${len(holding.chuckGrip + holding.chuckStub)} from the chuck end. ${holding.inside ? 'Jaws spread inside the bore,' : 'Grip'} ${len(holding.chuckGrip)}${holding.inside ? ' deep' : ' in the jaws'}${round ? '' : ', a flat up'}${holding.tailstock ? '; the tailstock’s centre goes into the other mark' : '; no tailstock'}.`,
    `${round ? 'The stock swings' : 'The corners swing'} ${len(job.safeRadius)} around the centre, clearance included.`,
  ];
  return `<div class="beside"><figure>${endView(job, len)}</figure>${list(rows, 'ol')}</div>
<figure>${sideView(job, len, job.control.axial.letter)}</figure>`;
}

/** What fit, plan and proof want said: warnings first, as much as there is room for. @param lines of room, title included */
function said(f: SheetFacts, lines: number): string {
  const problems = f.problems.filter((p) => p.code !== 'hazard');
  const rows = [
    ...problems.filter((p) => p.severity !== 'note').map((p) => `Mind: ${sentence(p)}`),
    ...f.findings.map((text) => `${text}.`),
    ...problems.filter((p) => p.severity === 'note').map(sentence),
  ];
  const told = fitting(rows, lines - TITLE - 1);
  const more = rows.length - told.length;
  const texts = [...told, ...(more ? [`${more} more in the report.`] : [])];
  return texts.length ? list(texts.map((t) => safe(t).replace(/^Mind:/, '<span class="warn">Mind:</span>'))) : '';
}

const sentence = (p: Problem): string => `${p.message}${p.allowed ? ` (${p.allowed})` : ''}.`;

function closing(f: SheetFacts): string {
  const { strength, price } = f;
  // A hundredth is less than a caliper shows; where it is does not matter then.
  const gives =
    strength.worstDeflection < 0.01
      ? 'less than 0.01 mm'
      : `at most ${plain(strength.worstDeflection, 3)} mm (${plain(strength.atX, 0)} mm from the chuck-end face)`;
  return [
    `Under the bit the part gives ${gives}, with ${plain(strength.safetyFactor, 1)} times the strength it needs.`,
    `One part: material ${price.material.toFixed(2)}, bench ${price.machine.toFixed(2)}, labour ${price.labour.toFixed(2)}, together ${price.unit.toFixed(2)} ${safe(price.currency)}.`,
    'Times are estimates; the first part tells. Measure it with a caliper: match finds what was off, and corrects the next.',
  ].join(' ');
}
