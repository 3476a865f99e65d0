/** Labels to print and cut apart: one for every piece, with its name and its number. A plain grid, no maker's sheet in mind. */
import { lengthsIn, safe } from '../../cam/sheet/html.ts';
import type { MadeVariant } from '../line.ts';
import { page } from './page.ts';
import { counted, thickText } from './words.ts';

/** mm; three across and seven down lie within the margins of A4 and of Letter. */
export const LABEL = { width: 60, height: 34, across: 3, down: 7 } as const;

const STYLE = `
@page { margin: 12mm; }
.leaf { display: grid; grid-template-columns: repeat(${LABEL.across}, ${LABEL.width}mm); grid-auto-rows: ${LABEL.height}mm; width: ${LABEL.across * LABEL.width}mm;
  margin: 0 auto 8mm; border-top: 0.2mm dashed var(--line); border-left: 0.2mm dashed var(--line); break-after: page; break-inside: avoid; }
.leaf:last-child { break-after: auto; }
.leaf > div { padding: 3mm 4mm; border-right: 0.2mm dashed var(--line); border-bottom: 0.2mm dashed var(--line); overflow: hidden;
  display: flex; flex-direction: column; justify-content: space-between; }
.leaf b { font: 600 11pt/1.15 "Iowan Old Style", "Palatino Linotype", Palatino, "Noto Serif", Georgia, serif; display: -webkit-box;
  -webkit-box-orient: vertical; -webkit-line-clamp: 2; overflow: hidden; overflow-wrap: anywhere; }
.leaf span { color: var(--faint); font-size: 8.5pt; line-height: 1.25; }
.leaf i { font: 600 13pt/1 "Iowan Old Style", "Palatino Linotype", Palatino, "Noto Serif", Georgia, serif; font-variant-numeric: tabular-nums; }
.leaf p { display: flex; justify-content: space-between; align-items: baseline; gap: 2mm; margin: 0; max-width: none; }
@media print { .leaf { margin: 0 auto; } }
@media (max-width: 760px) { body { overflow-x: auto; } }
`;

/** What stands on one label. */
export interface Label {
  readonly name: string;
  readonly facts: string;
  /** `3 of 40`. */
  readonly number: string;
  readonly slug: string;
}

/** @returns a label for each piece of each proven variant, in the order of the line */
export function labelsOf(title: string, line: readonly MadeVariant[]): Label[] {
  return line.flatMap(({ variant, verdict, report }) => {
    if (verdict !== 'proven' || !report) return [];
    const len = lengthsIn(variant.part.units === 'inch');
    const facts = `${title} · ${len(report.part.length)}, ${thickText(report.blank, report.part.maxRadius, len)}`;
    return Array.from({ length: variant.quantity }, (_, i) => ({
      name: variant.name,
      facts,
      number: `${i + 1} of ${variant.quantity}`,
      slug: variant.slug,
    }));
  });
}

export function labelsHtml(title: string, line: readonly MadeVariant[]): string {
  const labels = labelsOf(title, line);
  const leaf = LABEL.across * LABEL.down;
  const leaves = Array.from({ length: Math.ceil(labels.length / leaf) }, (_, k) =>
    labels.slice(k * leaf, (k + 1) * leaf),
  );
  return page(
    `${title}: labels`,
    `<p class="lead screen">${counted(labels.length, 'label')} of ${LABEL.width} × ${LABEL.height} mm, ${leaf} on a leaf of A4 or Letter. Print at full size (100 %), cut along the lines.</p>
${leaves.map((l) => `<div class="leaf">${l.map(cell).join('')}</div>`).join('\n')}`,
    STYLE,
  );
}

const cell = (l: Label): string =>
  `<div><b>${safe(l.name)}</b><span>${safe(l.facts)}</span><p><i>${l.number}</i><span>${l.slug}</span></p></div>`;
