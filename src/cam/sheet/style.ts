/** Look of the setup sheet: paper and ink, verdigris where a hand must act; prints on A4 and Letter. */
export const SHEET_STYLE = `
@page { size: auto; margin: 14mm; }
:root { --paper: #fbf8f1; --ink: #23211d; --faint: #6d675c; --line: #cfc7b6; --act: #2f6f66; --wood: #e5d3b3; --warn: #8f3f1f; }
* { box-sizing: border-box; }
body { margin: 0 auto; max-width: 186mm; padding: 8mm; background: var(--paper); color: var(--ink);
  font: 10.5pt/1.42 "Source Sans 3", "Segoe UI", "Noto Sans", Helvetica, Arial, sans-serif; }
h1, h2 { font-family: "Iowan Old Style", "Palatino Linotype", Palatino, "Noto Serif", Georgia, serif; font-weight: 600; line-height: 1.15; }
h1 { font-size: 22pt; margin: 0 0 1mm; }
h2 { font-size: 13pt; margin: 6mm 0 1.5mm; padding-bottom: 0.6mm; border-bottom: 0.35mm solid var(--act); break-after: avoid; }
p { margin: 0 0 2mm; max-width: 150mm; }
.lead { color: var(--faint); }
.state { display: inline-block; padding: 0.6mm 2.4mm; border: 0.35mm solid var(--act); color: var(--act); font-weight: 600; }
.state.no { border-color: var(--warn); color: var(--warn); }
.warn { color: var(--warn); font-weight: 600; }
table { border-collapse: collapse; width: 100%; margin: 1mm 0 2mm; font-variant-numeric: tabular-nums; }
th, td { text-align: left; vertical-align: top; padding: 1mm 2.4mm 1mm 0; border-bottom: 0.2mm solid var(--line); }
th { color: var(--faint); font-weight: 600; font-size: 9pt; }
tr { break-inside: avoid; }
ul, ol { margin: 0 0 2mm; padding-left: 5.5mm; }
li { margin: 0 0 0.8mm; }
code { font: 9.5pt/1.3 "Source Code Pro", "DejaVu Sans Mono", Consolas, monospace; overflow-wrap: anywhere; }
figure { margin: 2mm 0; break-inside: avoid; }
figcaption { color: var(--faint); font-size: 9pt; }
svg { display: block; width: 100%; height: auto; }
svg text { font: 3.4px "Source Sans 3", "Segoe UI", "Noto Sans", Helvetica, Arial, sans-serif; fill: var(--ink); }
.two { display: grid; grid-template-columns: 62mm 1fr; gap: 6mm; align-items: start; }
.tick li { list-style: "☐  "; }
footer { margin-top: 6mm; color: var(--faint); font-size: 8.5pt; }
@media print { body { padding: 0; background: none; max-width: none; } }
@media (max-width: 560px) { .two { grid-template-columns: 1fr; } table { display: block; overflow-x: auto; } }
`;
