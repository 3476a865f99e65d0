/** What a person reads after a command: problems, findings, and the numbers that matter. */
import { type Finding, type Problem, problemLine, type Severity } from '../../shared/problems.ts';
import type { Built } from '../build.ts';
import { clock } from '../cam/program-header.ts';
import { type Colour, colour } from './colour.ts';

type Stream = NodeJS.WriteStream;
const COLOURS: Record<Severity, Colour> = { refuse: 'rust', warn: 'ochre', note: 'faint' };
const NAMES: Record<Severity, string> = { refuse: 'refused', warn: 'mind', note: 'note' };
const ORDER: Severity[] = ['refuse', 'warn', 'note'];
const bySeverity = <T extends { severity: Severity }>(rows: readonly T[]): T[] =>
  [...rows].sort((a, b) => ORDER.indexOf(a.severity) - ORDER.indexOf(b.severity));

/** One line each, the worst first. Of a wrong document the line is the problem alone; else its weight stands in front. */
export function problemLines(problems: readonly Problem[], stream: Stream, weigh: boolean): string[] {
  return bySeverity(problems).map((p) =>
    weigh ? `${colour(NAMES[p.severity], COLOURS[p.severity], stream)}: ${problemLine(p)}` : problemLine(p),
  );
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
    ['part', `${report.part.name}, ${n(report.part.length)} mm long, up to ${n(2 * report.part.maxRadius)} mm thick`],
    [
      'blank',
      `${report.blank.section} ${n(report.blank.width)} mm, ${n(report.blank.to - report.blank.from)} mm long, ${job.material.label}`,
    ],
    [
      'proof',
      `deepest gouge ${report.proof.deepestGouge.toFixed(3)} mm (allowed ${report.proof.tolerance}), rest ${report.proof.restP99.toFixed(3)} mm`,
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

/** What limits set the speeds, a sentence each, by bit. */
export function loadLines(built: Built): string[] {
  const tools = built.job?.tools;
  if (!tools) return [];
  return [tools.roughing, tools.finishing, ...tools.detail, ...tools.drills].flatMap((t) => [
    t.bit.label,
    ...t.limits.why.map((w) => `  ${w}`),
  ]);
}

const n = (v: number): string => String(Number(v.toFixed(1)));
