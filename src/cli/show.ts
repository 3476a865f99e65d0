/** What a person reads after a command: problems, findings, and the numbers that matter. */
import {
  type Edit,
  type Finding,
  type Measure,
  type Problem,
  problemLine,
  type Severity,
} from '../../shared/problems.ts';
import type { Built } from '../build.ts';
import { overCorners } from '../cam/blank.ts';
import { senseSentences } from '../cam/cutting-sense.ts';
import { clock } from '../cam/program-header.ts';
import { gougeText } from '../cam/sheet/html.ts';
import { loadsSentence, toolLoads } from '../cam/tool-loads.ts';
import { type Colour, colour } from './colour.ts';

type Stream = NodeJS.WriteStream;
const COLOURS: Record<Severity, Colour> = { refuse: 'rust', warn: 'ochre', note: 'faint' };
const NAMES: Record<Severity, string> = { refuse: 'refused', warn: 'mind', note: 'note' };
const ORDER: Severity[] = ['refuse', 'warn', 'note'];
/** The worst first, else as they were found. */
export const bySeverity = <T extends { severity: Severity }>(rows: readonly T[]): T[] =>
  [...rows].sort((a, b) => ORDER.indexOf(a.severity) - ORDER.indexOf(b.severity));

/** One line each, the worst first. Of a wrong document the line is the problem alone; else its weight stands in front. */
export function problemLines(problems: readonly Problem[], stream: Stream, weigh: boolean): string[] {
  return bySeverity(problems).map((p) =>
    weigh ? `${colour(NAMES[p.severity], COLOURS[p.severity], stream)}: ${problemLine(p)}` : problemLine(p),
  );
}

const UNITS: Partial<Record<Measure['unit'], string>> = { times: '×', counts: '', Hz: ' a second' };
const PLACES: Partial<Record<Measure['unit'], number>> = { rpm: 2, Nm: 3, counts: 0, Hz: 0, times: 1 };

/** The number behind a problem beside its bound, with the bound's sense. */
function measureLine({ got, bound, unit }: Measure): string {
  // As many decimals as tell the two apart.
  const places = PLACES[unit] ?? (Math.abs(got) < 10 || Math.abs(got - bound) < 1 ? 2 : 1);
  const text = (v: number) => `${Number(v.toFixed(places))}${UNITS[unit] ?? ` ${unit}`}`;
  return `${text(got)}, ${got > bound ? 'at most' : 'at least'} ${text(bound)}`;
}

/** An edit as a person would type it; of a row only what names it, since `--json` has it whole. */
function editText({ path, value }: Edit): string {
  if (value === null) return `without ${path}`;
  if (typeof value !== 'object' || Array.isArray(value)) return `${path} ${JSON.stringify(value)}`;
  const row = value as { id?: string };
  return row.id ? `${path} = the row "${row.id}"` : `${path} ${JSON.stringify(value)}`;
}

/**
 * Each problem with its number, its bound and the changes that were tried and mend it, the worst first; a blank line between
 * those of weight, since they are read one by one.
 */
export function checkLines(problems: readonly Problem[], stream: Stream): string[] {
  const told = new Set<string>();
  return bySeverity(problems).flatMap((p) => {
    const lines = problemLines([p], stream, true);
    if (p.severity === 'note') return lines;
    if (p.measure) lines.push(`    ${measureLine(p.measure)}`);
    const changes = JSON.stringify(p.changes ?? []);
    if (p.changes?.length && told.has(changes)) return [...lines, '    the same changes mend it', ''];
    told.add(changes);
    p.changes?.forEach((c, i) => {
      const lead = i === 0 ? 'change' : '    or';
      lines.push(
        `    ${colour(lead, 'verdigris', stream)} ${c.say}`,
        `           ${colour(c.set.map(editText).join(', '), 'faint', stream)}`,
      );
    });
    return [...lines, ''];
  });
}

/** What stands against the part in a few words. */
export function tally(problems: readonly Problem[]): string {
  const n = (severity: Severity) => problems.filter((p) => p.severity === severity).length;
  const parts = [
    [n('refuse'), 'refused'],
    [n('warn'), 'to mind'],
    [n('note'), 'noted'],
  ] as const;
  return parts
    .filter(([count]) => count > 0)
    .map(([count, what]) => `${count} ${what}`)
    .join(', ');
}

/** One line each: file and line, what is wrong, what to change. */
export function findingLines(findings: readonly Finding[], stream: Stream): string[] {
  return bySeverity(findings).map((f) => {
    const place = f.line ? `${f.file}:${f.line}: ` : f.file ? `${f.file}: ` : '';
    const where = `x ${f.x.toFixed(1)}, ${f.theta_deg.toFixed(0)}°`;
    return `${colour(NAMES[f.severity], COLOURS[f.severity], stream)}: ${place}${f.code} at ${where}: ${f.message}${f.fix ? ` (${f.fix})` : ''}`;
  });
}

/** The numbers of a build that got as far as its proof. */
export function summaryLines(built: Built, stream: Stream): string[] {
  const { report, job, strength } = built;
  if (!report || !job || !strength) return [];
  const state = built.verdict === 'proven' ? colour('proven', 'verdigris', stream) : colour('refused', 'rust', stream);
  const rows: [string, string][] = [
    ['verdict', state],
    [
      'part',
      `${report.part.name}, ${n(report.part.length)} mm long, up to ${n(2 * report.part.maxRadius)} mm ${overCorners(report.blank, report.part.maxRadius) ? 'across the corners' : 'thick'}`,
    ],
    [
      'blank',
      `${report.blank.section} ${n(report.blank.width)} mm, ${n(report.blank.to - report.blank.from)} mm long, ${job.material.label}`,
    ],
    [
      'proof',
      `${gougeText(report.proof.deepestGouge, report.proof.tolerance)}, rest ${report.proof.restP99.toFixed(3)} mm`,
    ],
    [
      'time',
      `${clock(report.time.total_s)}, ${Math.round(100 * report.time.efficiency)} % of it needed by the limits themselves`,
    ],
    [
      'strength',
      `gives ${strength.worstDeflection.toFixed(3)} mm at x ${n(strength.atX)}, ${strength.safetyFactor.toFixed(1)} times the strength it needs`,
    ],
    ['price', `${report.price.unit.toFixed(2)} ${report.price.currency}`],
    ...report.programs.map((p, i): [string, string] => [
      i ? '' : 'programs',
      `${p.file}: ${p.stages.map((s) => s.stage).join(', ')}; ${p.rpm} rpm, ${p.blocks} blocks, ${clock(p.time_s)}`,
    ]),
  ];
  return rows.map(([name, value]) => `${name.padEnd(9)} ${value}`);
}

/** How many stations of the strength table are printed. */
const STATIONS = 9;

/** Strength along x: what gives where, under which stage, and how far the feed is brought down there. */
export function strengthLines(built: Built): string[] {
  const all = built.strength?.stations.filter((s) => s.x >= 0 && s.x <= (built.job?.field.length ?? 0)) ?? [];
  if (all.length < 2) return [];
  const at = Array.from({ length: STATIONS }, (_, i) => all[Math.round((i * (all.length - 1)) / (STATIONS - 1))]!);
  const rows = at.map((s) => [
    n(s.x),
    n(2 * s.smallest),
    s.finishing.toFixed(3),
    s.deflection.toFixed(3),
    s.twist.toFixed(3),
    s.safetyFactor > 999 ? '>999' : s.safetyFactor.toFixed(1),
    s.weakestIn,
    s.finishingFeed < 1 ? `${Math.round(100 * s.finishingFeed)} %` : '',
  ]);
  const head = ['x', 'thick', 'finish', 'most', 'twist', 'times', 'weakest in', 'feed'];
  const wide = head.map((h, c) => Math.max(h.length, ...rows.map((r) => r[c]!.length)));
  const line = (cells: readonly string[]) =>
    `  ${cells.map((cell, c) => (c === 6 ? cell.padEnd(wide[c]!) : cell.padStart(wide[c]!))).join('  ')}`.trimEnd();
  return [
    'along x, mm (give while finishing, at most in any stage, twist; times the strength needed)',
    line(head),
    ...rows.map(line),
  ];
}

/** The same as data, for `--json`: each bit with its limits, its loads and the way it cuts. */
export function loadsOf({ job, plan }: Built): object[] {
  if (!job) return [];
  const { tools } = job;
  return [tools.roughing, tools.finishing, ...tools.detail, ...tools.drills].map((t) => ({
    bit: t.bit.id,
    limits: t.limits,
    loads: toolLoads(job, t),
    cuts: senseSentences(t, plan?.programs ?? []),
  }));
}

/** What limits set the speeds, what they load, and which way the bit cuts: a sentence each, by bit. */
export function loadLines(built: Built): string[] {
  const { job, plan } = built;
  if (!job) return [];
  const { tools } = job;
  return [tools.roughing, tools.finishing, ...tools.detail, ...tools.drills].flatMap((t) => [
    t.bit.label,
    ...t.limits.why.map((w) => `  ${w}`),
    `  ${loadsSentence(toolLoads(job, t), job.bench.stiffness)}`,
    ...senseSentences(t, plan?.programs ?? []).map((w) => `  ${w}`),
  ]);
}

const n = (v: number): string => String(Number(v.toFixed(1)));
