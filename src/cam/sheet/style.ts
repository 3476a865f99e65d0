/**
 * Look of the setup sheet: paper and ink, verdigris where a hand must act. Two pages that fit A4 (210 × 297 mm, ISO 216) and
 * Letter (215.9 × 279.4 mm, ANSI/ASME Y14.1) alike: the text's face is one whose widths are the same under many names on
 * every system, so that what fits here fits there.
 */

/** Box of a page: the narrower of the two papers and the shorter, less a margin all round, mm. */
export const PAGE_WIDTH = 190;
export const PAGE_HEIGHT = 261;
const MARGIN = 9;

export const SHEET_STYLE = `
@page { margin: ${MARGIN}mm; }
:root { --paper: #fffdf8; --ink: #1d1b18; --faint: #5b564c; --line: #c9c1b0; --act: #1f6458; --wood: #ecdcbf; --metal: #8d929a; --wash: #dcebe6; --warn: #8f3316; }
* { box-sizing: border-box; }
html { -webkit-print-color-adjust: exact; print-color-adjust: exact; }
body { margin: 0; background: var(--paper); color: var(--ink); font: 11pt/1.17 Arial, Helvetica, "Liberation Sans", Arimo, sans-serif; }
.page { width: ${PAGE_WIDTH}mm; min-height: 100px; margin: 0 auto; padding: 0 2mm; }
.page + .page { break-before: page; }
h1, h2 { font-family: "Iowan Old Style", "Palatino Linotype", Palatino, Georgia, "Times New Roman", serif; font-weight: 700; line-height: 1.05; }
h1 { font-size: 19pt; margin: 0; }
h1.long { font-size: 12.5pt; }
h2 { font-size: 12.5pt; margin: 1.6mm 0 0.8mm; padding-bottom: 0.3mm; border-bottom: 0.4mm solid var(--act); }
h2 b { color: var(--act); }
p { margin: 0 0 1mm; }
header { display: flex; justify-content: space-between; gap: 5mm; align-items: start; }
header.again { font-size: 9.5pt; color: var(--faint); }
.state { flex: none; max-width: 74mm; padding: 0.8mm 2mm; border: 0.5mm solid var(--act); color: var(--act); font-weight: 700; }
.state.no { border-color: var(--warn); color: var(--warn); }
.warn { color: var(--warn); font-weight: 700; }
.guard { margin-top: 1.5mm; padding: 0.8mm 2mm; border: 0.4mm solid var(--warn); }
table { border-collapse: collapse; width: 100%; margin: 0.6mm 0 1mm; font-variant-numeric: tabular-nums; }
th, td { text-align: left; vertical-align: top; padding: 0.5mm 2.4mm 0.5mm 0; border-bottom: 0.2mm solid var(--line); }
th { color: var(--faint); font-weight: 700; font-size: 9.5pt; }
.settings td { white-space: nowrap; }
.settings td:nth-child(3) { font-size: 9.5pt; white-space: normal; width: 100%; }
.runs td:nth-child(-n+2) { width: 6mm; font-size: 13pt; font-weight: 700; line-height: 1; }
.runs tr:has(+ .more) td { border: 0; padding-bottom: 0; }
.time { white-space: nowrap; text-align: right; font-weight: 700; }
.small { font-size: 9.5pt; color: var(--faint); }
ul, ol { margin: 0; padding-left: 5.5mm; }
li { margin: 0 0 0.4mm; }
.columns { columns: 2; column-gap: 6mm; }
.columns li { break-inside: avoid; }
code { font: 11pt/1.1 "Courier New", Courier, "Liberation Mono", Cousine, monospace; font-weight: 700; overflow-wrap: anywhere; }
figure { margin: 0; }
svg { display: block; max-width: 100%; }
svg text { font: 3.9px Arial, Helvetica, "Liberation Sans", Arimo, sans-serif; fill: var(--ink); }
svg text[font-weight] { font-weight: 700; }
svg text.large { font-size: 6px; }
.beside { display: grid; grid-template-columns: 43mm 1fr; gap: 5mm; align-items: start; }
.wide { grid-template-columns: 58mm 1fr; gap: 2.5mm; }
.gap { display: inline-block; width: 19mm; border-bottom: 0.35mm solid var(--ink); }
.tick { padding-left: 0; list-style: none; }
.tick li { padding-left: 6.5mm; text-indent: -6.5mm; }
.tick li::before { content: "☐ "; font-size: 13pt; line-height: 0.8; display: inline-block; width: 6.5mm; text-indent: 0; }
footer { margin-top: 1.5mm; color: var(--faint); font-size: 9.5pt; }
@media screen { body { background: #e9e4d8; } .page { margin: 6mm auto; padding: 10mm; width: ${PAGE_WIDTH + 2 * MARGIN}mm; max-width: 100%; background: var(--paper); box-shadow: 0 1mm 4mm #0003; } }
@media screen and (max-width: 720px) { .beside { grid-template-columns: 1fr; } .columns { columns: 1; } table { display: block; overflow-x: auto; } svg { height: auto !important; } }
`;
