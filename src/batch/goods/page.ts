/** The shell of the line's pages: one file each, nothing from outside, nothing that runs; paper and ink, or ink and paper in the dark. */
import { safe } from '../../cam/sheet/html.ts';
import { SHEET_STYLE } from '../../cam/sheet/style.ts';

const STYLE = `${SHEET_STYLE}
:root { --proven: #2f6f66; --tint: #f1eadb; }
@media screen and (prefers-color-scheme: dark) {
  :root { color-scheme: dark; --paper: #1c1a16; --ink: #f1eadb; --faint: #b9b0a0; --line: #4a443a; --act: #55b59c; --wood: #7a603e;
    --warn: #e98a7d; --proven: #55b59c; --tint: #26231e; }
}
body { max-width: 210mm; background: var(--paper); }
header { display: block; }
.state { display: inline-block; max-width: none; }
@media screen { body { margin: 0 auto; padding: 8mm 10mm 14mm; } }
@media screen and (max-width: 640px) { body { padding: 5mm 4mm 10mm; } }
a { color: var(--act); text-underline-offset: 0.6mm; }
td.n, th.n { text-align: right; padding-right: 0; padding-left: 2.4mm; white-space: nowrap; }
th.n + th:not(.n), td.n + td:not(.n) { padding-left: 5mm; }
.wide { overflow-x: auto; }
.facts { display: flex; flex-wrap: wrap; gap: 3mm 9mm; margin: 3mm 0 1mm; padding: 0; list-style: none; }
.facts b { display: block; font: 600 15pt/1.2 "Iowan Old Style", "Palatino Linotype", Palatino, "Noto Serif", Georgia, serif; }
.facts span { color: var(--faint); font-size: 9pt; }
.doors { display: flex; flex-wrap: wrap; gap: 2mm; margin: 3mm 0; padding: 0; list-style: none; }
.doors a { display: block; padding: 1.6mm 3.6mm; border: 0.35mm solid var(--act); font-weight: 600; text-decoration: none; }
.doors a:hover, .doors a:focus-visible { background: var(--tint); }
td svg.small { width: 34mm; min-width: 34mm; height: 9mm; }
article { break-inside: avoid; margin: 0 0 7mm; padding-top: 1mm; border-top: 0.35mm solid var(--act); }
article h2 { border: 0; margin: 1.5mm 0 0.5mm; padding: 0; }
article .show { display: block; max-width: 100%; max-height: 40mm; height: auto; margin: 2mm auto 1mm; }
.beside { display: grid; grid-template-columns: 1fr 56mm; gap: 8mm; align-items: end; }
.beside figure { margin: 0; }
@media (max-width: 640px) { .beside { grid-template-columns: 1fr; } }
@media print { .doors, .screen { display: none; } a { color: inherit; text-decoration: none; } }
`;

/** Said by the page itself: nothing may be fetched, nothing may run. */
const POLICY = "default-src 'none'; style-src 'unsafe-inline'; img-src data:";

/** @param title plain text @param body HTML @param style more rules @returns a whole document */
export const page = (title: string, body: string, style = ''): string => `<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="${POLICY}">
<title>${safe(title)}</title><style>${STYLE}${style}</style></head><body>
${body}
</body></html>
`;

/** A cell that stands to the right. */
export const right = (html: string): Cell => ({ html, kind: 'n' });
export type Cell = string | { readonly html: string; readonly kind: 'n' };

/** A table whose cells are HTML, with numbers to the right. */
export function grid(head: readonly Cell[], rows: readonly (readonly Cell[])[]): string {
  const cell = (tag: string, c: Cell, more = '') =>
    typeof c === 'string' ? `<${tag}${more}>${c}</${tag}>` : `<${tag}${more} class="${c.kind}">${c.html}</${tag}>`;
  return `<div class="wide"><table><thead><tr>${head.map((c) => cell('th', c, ' scope="col"')).join('')}</tr></thead><tbody>
${rows.map((r) => `<tr>${r.map((c) => cell('td', c)).join('')}</tr>`).join('\n')}
</tbody></table></div>`;
}
