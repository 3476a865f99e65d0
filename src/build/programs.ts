/** Written programs under their file names, and what the proof is told of them. */
import type { Bit } from '../../shared/catalog.ts';
import type { Limits, Tool } from '../cam/job.ts';
import type { Work } from '../cam/price/cost.ts';
import type { ProgramText } from '../cam/proof/verdict.ts';
import type { Written } from '../cam/write.ts';
import type { Report } from './report.ts';

export interface BuiltProgram {
  readonly file: string;
  readonly text: string;
  readonly written: Written;
  /** Bits in the order of use; one, but for a control that wants a single file. */
  readonly tools: readonly Tool[];
}

/** Names the programs of a part in run order. */
export function namePrograms(slug: string, written: readonly Written[]): BuiltProgram[] {
  return written.map((w, i) => {
    const tools = w.sections.map((s) => s.tool);
    const bit = tools.length === 1 ? tools[0]!.bit.id : 'all-bits';
    return { file: `${slug}-${i + 1}-${bit}.nc`, text: w.text, written: w, tools };
  });
}

const declared = (tool: Tool): { bit: Bit } & Pick<Limits, 'stepDown' | 'rampAngle_deg' | 'plunge'> => ({
  bit: tool.bit,
  stepDown: tool.limits.stepDown,
  rampAngle_deg: tool.limits.rampAngle_deg,
  plunge: tool.limits.plunge,
});

/** What is asked of a program before the proof can read it. */
export type Provable = Pick<BuiltProgram, 'file' | 'text' | 'tools'>;

/** What the proof reads of a program: its text, and the bits that are declared for it. */
export const proofText = (p: Provable): ProgramText => ({
  file: p.file,
  text: p.text,
  ...declared(p.tools[0]!),
  ...(p.tools.length > 1 ? { changes: p.tools.slice(1).map(declared) } : {}),
});

const UNPROVEN_HEAD = [
  '(UNPROVEN: the proof refused this program. It may gouge, crash or break the bit.)',
  '(Kept on request, to be looked at; do not cut with it.)',
];
/** How many lines an unproven program has before its own first one. */
export const UNPROVEN_LINES = UNPROVEN_HEAD.length;
export const unprovenFile = (file: string): string => file.replace(/\.nc$/, '.UNPROVEN.nc');
export const unprovenText = (text: string): string => `${UNPROVEN_HEAD.join('\n')}\n${text}`;

type ProgramRow = Report['programs'][number];

/** Rows of the report: one a bit; a file with several bits has several. */
export function programRows(p: BuiltProgram): ProgramRow[] {
  const { written } = p;
  const passesOf = (from: number, to: number) => written.passLines.filter((l) => l.line >= from && l.line < to);
  const allOf = (stage: string) => written.passLines.filter((l) => l.stage === stage).length;
  return written.sections.map(({ tool, line }, i) => {
    const passes = passesOf(line, written.sections[i + 1]?.line ?? Infinity);
    const names = [...new Set(passes.map((l) => l.stage))];
    const stages = names.map((stage) => {
      const here = passes.filter((l) => l.stage === stage).length;
      const time = written.time.stages.find((s) => s.stage === stage)?.time_s ?? 0;
      // Two bits of one file may share a stage's name: then its time goes by the number of passes.
      return { stage, passes: here, time_s: seconds((time * here) / allOf(stage)) };
    });
    const several = written.sections.length > 1;
    return {
      file: p.file,
      bit: bitRow(tool.bit),
      rpm: tool.limits.rpm,
      stages,
      blocks: several ? movingLines(p.text, line, written.sections[i + 1]?.line) : written.blocks,
      time_s: seconds(several ? stages.reduce((sum, s) => sum + s.time_s, 0) : written.time.total_s),
    };
  });
}

/** Bits of a program and their times, for its price. */
export const workOf = (p: BuiltProgram): Work[] =>
  programRows(p).map((row, i) => ({ bit: p.tools[i]!.bit, time_s: row.time_s }));

/** What the report tells of a bit. */
export const bitRow = (b: Bit): ProgramRow['bit'] => ({
  kind: b.kind,
  diameter: b.diameter,
  tipRadius: b.tipRadius,
  tipDiameter: b.tipDiameter,
  includedAngle_deg: b.includedAngle_deg,
  fluteLength: b.fluteLength,
  reach: b.reach,
  shank: b.shank,
});

/** Lines from one line number up to another that move an axis. */
const movingLines = (text: string, from: number, to?: number): number =>
  text
    .split('\n')
    .slice(from - 1, to === undefined ? undefined : to - 1)
    .filter((l) => /^(G[0-3] ?|G9[34] ?)*[XYZABCUVW]/.test(l)).length;

const seconds = (t: number): number => Number(t.toFixed(2));
