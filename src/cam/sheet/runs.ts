/** Bits in the order of use, drawn with their stick-out, and the programs in the order of running. */
import type { Bit } from '../../../shared/catalog.ts';
import { radians } from '../../../shared/units.ts';
import type { Job, Tool } from '../job.ts';
import { clock } from '../program-header.ts';
import type { SheetFacts, SheetProgram } from './facts.ts';
import { type LengthText, plain, safe } from './html.ts';
import { ACT, INK, line, svg, words } from './ink.ts';

/** A number of the drawing's place. */
const n = (v: number): string => plain(v, 2);

/** The cutting end, tip at (x, y), scaled by k; closed path up to the flutes' end. */
function endPath(bit: Bit, x: number, y: number, k: number): string {
  const R = (k * bit.diameter) / 2;
  const up = k * bit.fluteLength;
  const tip = k * bit.tipRadius;
  if (bit.kind === 'ball')
    return `M${n(x - R)} ${n(y - up)} V${n(y - R)} A${n(R)} ${n(R)} 0 0 0 ${n(x + R)} ${n(y - R)} V${n(y - up)} Z`;
  if (bit.kind === 'bull')
    return `M${n(x - R)} ${n(y - up)} V${n(y - tip)} A${n(tip)} ${n(tip)} 0 0 0 ${n(x - R + tip)} ${n(y)} H${n(x + R - tip)} A${n(tip)} ${n(tip)} 0 0 0 ${n(x + R)} ${n(y - tip)} V${n(y - up)} Z`;
  if (bit.kind === 'flat') return `M${n(x - R)} ${n(y - up)} V${n(y)} H${n(x + R)} V${n(y - up)} Z`;
  // Vee and tapered ball: straight flanks from the tip to the full width, at the angle that the bit has.
  const half = Math.tan(radians(bit.includedAngle_deg / 2));
  const t = Math.max((k * bit.tipDiameter) / 2, tip, 0.25);
  const rise = Math.min(up, half > 0 ? (R - t) / half : up);
  return `M${n(x - R)} ${n(y - up)} V${n(y - rise)} L${n(x - t)} ${n(y - (tip ? t : 0))} ${tip ? `A${n(t)} ${n(t)} 0 0 0 ${n(x + t)} ${n(y - t)}` : `H${n(x + t)}`} L${n(x + R)} ${n(y - rise)} V${n(y - up)} Z`;
}

/** Height of the bits' drawing, mm. */
const TALL = 26;
/** Width of a bold letter of the drawings on average, mm. */
const BOLD = 2.15;

/** Bits in one row at the most. */
const PER_ROW = 6;
export const bitRows = (tools: number): number => Math.ceil(tools / PER_ROW);

/** @param tools in the order of use, a bit as often as it is put in */
export function bitsDrawing(tools: readonly Tool[], len: LengthText): string {
  const wide = 186 / Math.min(PER_ROW, Math.max(3, tools.length));
  const k = Math.min(0.62, (TALL - 5) / Math.max(...tools.map((t) => t.bit.stickOut)));
  const drawn = tools.map(({ bit, limits }, i) => {
    const column = i % PER_ROW;
    const nut = (k * bit.holder) / 2;
    const x = column * wide + nut + 0.5;
    const text = x + nut + 4;
    const y = TALL + Math.floor(i / PER_ROW) * (TALL + 4);
    const face = y - k * bit.stickOut;
    const shank = (k * bit.shank) / 2;
    return `<rect x="${n(x - nut)}" y="${n(face - 5)}" width="${n(2 * nut)}" height="5" fill="var(--metal)"/>
<rect x="${n(x - shank)}" y="${n(face)}" width="${n(2 * shank)}" height="${n(k * (bit.stickOut - Math.min(bit.reach, bit.stickOut)) + 0.01)}" fill="var(--paper)" ${INK} stroke-width="0.4"/>
<rect x="${n(x - (k * bit.diameter) / 2)}" y="${n(y - k * Math.min(bit.reach, bit.stickOut))}" width="${n(k * bit.diameter)}" height="${n(k * Math.max(0, Math.min(bit.reach, bit.stickOut) - bit.fluteLength))}" fill="var(--paper)" ${INK} stroke-width="0.4"/>
<path d="${endPath(bit, x, y, k)}" fill="var(--wash)" ${INK} stroke-width="0.5"/>
${line(text - 3, face, text - 3, y, `${ACT} stroke-width="0.5"`)}${line(text - 4.2, face, text - 1.8, face, `${ACT} stroke-width="0.5"`)}${line(text - 4.2, y, text - 1.8, y, `${ACT} stroke-width="0.5"`)}
${words(text, y - 20.5, `${i + 1}`, 'start', 'font-weight="700" class="large"')}
${labelLines(bit.label, (column + 1) * wide - text - 1)
  .map((l, row) => words(text, y - 15.4 + 4.4 * row, l, 'start', 'font-weight="700"'))
  .join('')}
${words(text, y - 6.2, `out ${len(bit.stickOut)}`, 'start')}
${wide > 34 ? words(text, y - 1.6, `${limits.rpm} rpm`, 'start') : ''}`;
  });
  return svg(
    186,
    bitRows(tools.length) * (TALL + 4) - 3,
    'Bits in the order of use, with their stick-out',
    drawn.join(''),
  );
}

/** A label in two lines of so many mm at the most; the table has it whole. */
function labelLines(label: string, width: number): string[] {
  const most = Math.max(6, Math.floor(width / BOLD));
  const lines = [''];
  for (const word of label.split(' ')) {
    const last = lines[lines.length - 1]!;
    if (!last) lines[lines.length - 1] = word;
    else if (last.length + 1 + word.length <= most) lines[lines.length - 1] = `${last} ${word}`;
    else lines.push(word);
  }
  return lines.length > 2 ? [lines[0]!, `${lines[1]!.slice(0, most - 2)} …`] : lines;
}

/** `1–16`, or one number. */
const span = (from: number, to: number): string => (from === to ? String(from) : `${from}–${to}`);

/** What a program does and how far it goes: stages and restarts, extents. */
export function programLine(p: SheetProgram, job: Job): [string, string] {
  const { control } = job;
  const d = control.decimals;
  const range = (letter: string, [a, b]: readonly [number, number], decimals: number) =>
    `${letter} ${plain(a, decimals)} … ${plain(b, decimals)}`;
  const extents = [
    range(control.axial.letter, p.extents.axial, d.linear),
    range(control.radial.letter, p.extents.radial, d.linear),
    range(control.rotary.letter, p.extents.rotary, Math.min(1, d.rotary)),
  ].join(', ');
  const stages = p.stages.map((s) => `${s.stage} (${s.passes})`).join(', ');
  const { from, to } = p.restarts;
  return [`${stages}; restart${from === to ? '' : 's'} ${span(from, to)}`, extents];
}

function programRow(p: SheetProgram, i: number, job: Job): string {
  const bits = p.tools.map((t) => t.bit.label).join(', ');
  const rpm = [...new Set(p.tools.map((t) => t.limits.rpm))].join(', ');
  const [does, extents] = programLine(p, job);
  return `<tr><td>☐</td><td>${i + 1}</td><td><code>${safe(p.file)}</code></td><td>${safe(bits)}, ${rpm} rpm</td><td class="time">${clock(p.time_s)}</td></tr>
<tr class="more"><td></td><td></td><td colspan="3">${safe(does)} <span class="small">${safe(extents)}</span></td></tr>`;
}

/** Everything that is run, in order, with a box to tick. */
export function runTable(f: SheetFacts): string {
  const first = f.firstRuns.map(
    (r) =>
      `<tr><td>☐</td><td>0</td><td><code>${safe(r.file)}</code></td><td>${r.name === 'turn-test' ? 'one turn and back' : 'the way in air'}, spindle stands</td><td class="time">${clock(r.time_s)}</td></tr>`,
  );
  const cutting = f.programs.map((p, i) => programRow(p, i, f.job));
  return `<table class="runs"><tbody>${[...first, ...cutting].join('')}</tbody></table>`;
}
