/**
 * The worked examples of the README: one part on two benches and the price of another, every number taken from a build.
 * `npm run worked` writes them.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { restartFrom } from '../src/build/restart.ts';
import type { Built } from '../src/build.ts';
import { wordsPerTurn } from '../src/cam/control.ts';
import { matchReadings } from '../src/cam/match.ts';
import { clock } from '../src/cam/program-header.ts';
import { rotarySetup } from '../src/cam/rotary-setup.ts';
import { dowelWord } from '../src/cam/sheet/zeros.ts';
import { buildRaw, refusals } from './support/built.ts';
import { pricedKnob, priceTable } from './worked-price.ts';

const README = resolve(import.meta.dirname, '../README.md');
export const KNOB = {
  name: 'Cleat knob',
  form: [
    { element: 'cylinder', length: 14, start: 16 },
    { element: 'bead', length: 8, start: 12 },
  ],
  blank: { section: 'square', width: 22, material: 'sugar-maple' },
  plan: { scallop: 0.05 },
};
export const BENCHES = ['four-axis-inverse-time', 'y-output-turn-100'] as const;
/** Readings of the first knob, as a caliper showed them. */
const READINGS = [
  { x: 3, diameter: 15.8 },
  { x: 7, diameter: 15.81 },
  { x: 11, diameter: 15.8 },
];
const n = (v: number, decimals = 2) => String(Number(v.toFixed(decimals)));

/** The steps on one bench. @param control id @returns Markdown */
export async function worked(control: string): Promise<string> {
  const built = await buildRaw({ ...KNOB, control }, { solid: 'none' });
  if (refusals(built).length) throw new Error(refusals(built).join('; '));
  return stepsOf(built)
    .map((s, i) => `${i + 1}. ${s}`)
    .join('\n');
}

function stepsOf(built: Built): string[] {
  const job = built.job!;
  const { blank, holding, control, bench } = job;
  const s = rotarySetup(bench, control);
  const [ro, ra] = [control.rotary.letter, control.radial.letter];
  const { fullSteps, microsteps, reduction } = bench.rotary;
  const unit = s.unit === '°' ? 'a degree' : 'a mm';
  const settings = `${n(s.stepsPerUnit, 5)} steps ${unit} (${fullSteps} × ${microsteps} × ${reduction} ÷ ${s.unitsPerTurn}), ${n(s.rate, 1)} ${s.unit}/min, ${n(s.acceleration)} ${s.unit}/s²`;
  const [first, second] = built.firstRuns!;
  const turns = built.programs.map((p) => p.written.extents.rotary[1]);
  const passes = built.programs.flatMap((p) => p.written.passLines);
  const stop = passes[Math.floor(passes.length / 4)]!.restart;
  const restart = restartFrom(job, built.plan!, built.programs, stop)!;
  const match = matchReadings(job, READINGS);
  const program = built.programs[0]!;
  const lines = program.text.split('\n');
  const cut = lines.find((l, i) => i > program.written.passLines[0]!.line && / F[\d.]+$/.test(l) && l.includes(ro))!;
  return [
    `Saw a square of maple, ${n(blank.width)} mm, ${n(blank.to - blank.from)} mm long. Diagonals on both ends, a pencil line ${n(holding.chuckGrip + holding.chuckStub)} mm from the chuck end.`,
    ...(control.rotary.linear
      ? [
          `Head over the rotary centre while ${ro} still has its motor; clamp it there. Power off. The ${ro} motor’s plug out (both, if it has two), the rotary’s plug in.`,
          `Power on. Write down what the ${ro} output is set to, then set it: ${settings}. Its soft limits off: the turns add up to ${ro} ${n(Math.max(...turns), 1)}. Never home it.`,
        ]
      : [`The ${ro} output: ${settings}; soft limits off, the turns add up to ${ro} ${n(Math.max(...turns), 1)}.`]),
    `Grip ${n(holding.chuckGrip)} mm in the jaws. Zeros: a 10 mm dowel under the bit is ${ra}${dowelWord(control, 10)}; a flat up is ${ro}0; jogged by ${n(wordsPerTurn(control) / 4, 4)} the top goes away from you.`,
    `\`${first!.file}\` (${clock(first!.time_s)}), then \`${second!.file}\` (${clock(second!.time_s)}), spindle standing.`,
    `${built.programs.map((p) => `\`${p.file}\` (${clock(p.written.time.total_s)})`).join(', ')}. The first line that turns while it cuts is \`${cut}\`${control.feedRule === 'inverse-time' ? ': F is one over its minutes' : `: F is length a minute over all its words, ${ro} among them`}.`,
    `Stopped in the middle? The last comment said “restart ${stop}”: \`make … --from-pass ${stop}\` adds \`${restart.program.file}\`, ${clock(restart.program.written.time.total_s)} from there.`,
    `The caliper shows ${READINGS.map((r) => `${n(r.diameter)} at ${r.x}`).join(', ')} mm where ${n(match.rows[0]!.wanted)} was wanted: \`match\` says that the bit stood ${n(match.causes.zero)} mm too low, and the next knob comes out ${n(2 * match.causes.zero)} mm thicker.`,
    ...(control.rotary.linear ? ['Power off, plugs back, the old settings and soft limits back, the clamp off.'] : []),
  ];
}

/** Sections of the README that a build writes: the marks around each. */
const MARKS: Readonly<Record<string, readonly [string, string]>> = {
  ...Object.fromEntries(BENCHES.map((b) => [b, [`worked ${b}`, '/worked']])),
  price: ['price', '/price'],
};
const between = (name: string) => {
  const [open, close] = MARKS[name]!;
  return new RegExp(`(<!-- ${open} -->\n)([\\s\\S]*?)(\n<!-- ${close} -->)`);
};

/** What the README says now of a bench, or of the price. @throws Error where its marks are gone */
export function written(name: string, text = readFileSync(README, 'utf8')): string {
  const found = between(name).exec(text);
  if (!found) throw new Error(`README.md has no place for ${name}`);
  return found[2]!;
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) {
  const before = readFileSync(README, 'utf8');
  let text = before;
  for (const name of Object.keys(MARKS)) {
    const now = name === 'price' ? priceTable(await pricedKnob()) : await worked(name);
    text = text.replace(between(name), (_, open: string, _old: string, close: string) => open + now + close);
  }
  const changed = Object.keys(MARKS).filter((name) => written(name, before) !== written(name, text));
  if (changed.length) writeFileSync(README, text);
  console.log(
    changed.length
      ? `README.md: written anew from a build: ${changed.join(', ')}`
      : `README.md: ${Object.keys(MARKS).join(', ')} are what a build says; nothing to write`,
  );
}
