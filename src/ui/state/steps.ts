/** The readiness strip: from bench to program, what each step says, and the one sentence that makes it done. */
import type { Problem, ProblemCode } from '../../../shared/problems.ts';
import { inches } from '../../../shared/units.ts';
import { carvingKinds } from '../../profiles/carvings/registry.ts';
import { lengthNumber, lengthText, plain, type ShownUnits } from '../measure.ts';
import type { FitResult, Raw, Selection, Step, StepName, Workshop } from './contract.ts';
import { findingWords, problemWords } from './place-words.ts';

/** The step at which a problem is mended. */
function stepOf(problem: Problem): StepName {
  const path = problem.path;
  const byCode: Partial<Record<ProblemCode, StepName>> = {
    bends: 'strength',
    slender: 'strength',
    'neck-shears': 'strength',
    hums: 'strength',
    'stub-too-thin': 'strength',
    'local-code': 'take-away',
    hazard: 'take-away',
  };
  if (byCode[problem.code]) return byCode[problem.code]!;
  if (path.startsWith('form') || path.startsWith('length') || path.startsWith('girth')) return 'form';
  if (path.startsWith('carvings')) return 'carving';
  if (path.startsWith('blank') || path.startsWith('holding')) return 'blank';
  if (path.startsWith('bits') || path.startsWith('feeds') || path.startsWith('plan') || path.startsWith('tolerance'))
    return 'cutting';
  if (path.startsWith('bench') || path.startsWith('control')) return 'bench';
  return 'form';
}

/** Where clicking on a step with a problem leads: the very element or carving if the path names one. */
function leadsTo(step: StepName, problem: Problem | undefined): Selection {
  const at = problem?.path.match(/^(form|carvings)\[(\d+)\]/);
  if (at) return { kind: at[1] === 'form' ? 'element' : 'carving', index: Number(at[2]) };
  return { kind: 'step', step };
}

/** The newest answer to whether it fits and holds, a step or two behind the document at the most. */
export function fitOf(w: Pick<Workshop, 'fit'>): FitResult | undefined {
  return w.fit.status === 'ready' ? w.fit.value : w.fit.status === 'working' ? w.fit.last : undefined;
}

/** Give that is told as a number, mm; what is less nobody measures on wood. */
const LEAST_TOLD = 0.01;

/** What bends or twists by so little that inches want a decimal more. @param mm give @returns `0.2 mm`, `under 0.0004 in` */
export function giveText(mm: number, shown: ShownUnits): string {
  const text = (give: number) => (shown === 'mm' ? lengthText(give, shown, 0.01) : `${plain(inches(give), 4)} in`);
  return mm < LEAST_TOLD ? `under ${text(LEAST_TOLD)}` : text(mm);
}
const factor = (times: number) => (times < 10 ? times.toFixed(1) : times.toFixed(0));
const minutes = (seconds: number) => (seconds < 90 ? `${Math.round(seconds)} s` : `${Math.round(seconds / 60)} min`);

/** The kinds of the carvings that are written, each by its label. */
function carvingNames(raw: Raw): string {
  const list = Array.isArray(raw.carvings) ? (raw.carvings as { carving?: unknown }[]) : [];
  return list.map((c) => carvingKinds.find((k) => k.kind === c?.carving)?.label ?? 'unknown').join(', ');
}

/** @param names of the steps that stop the part, at least one */
const firstMend = (names: readonly StepName[]) => `First mend the ${names.join(' and the ')}`;

/** @returns what is to be mended before there is anything to prove; empty if nothing stops the part */
export function mendWords(steps: readonly Step[]): string {
  const names = steps.filter((s) => s.state === 'stopped').map((s) => s.name);
  return names.length ? firstMend(names) : '';
}

/** @param w the page's state @returns the eight steps in their order */
export function stepsOf(w: Workshop): Step[] {
  // While the next answer is worked out the last one stands: a step that blinks cannot be read.
  const fit = fitOf(w);
  const problems = w.job && fit ? [...w.problems, ...fit.problems] : w.problems;
  const refusals = problems.filter((p) => p.severity === 'refuse');
  const warnings = problems.filter((p) => p.severity === 'warn');
  const { part, raw, build } = w;
  // A document that is wrong somewhere is still told in what of it is right.
  const job = w.job ?? w.lastGood?.job;
  const sentence = (p: Problem) => problemWords(raw, p);
  const fresh = build.status === 'ready' && build.serial === w.serial ? build.value : undefined;
  const blank = job?.blank;
  const length = (mm: number) => lengthNumber(mm, w.shownUnits);
  const across = blank
    ? blank.section === 'rectangle'
      ? `${length(blank.width)} × ${length(blank.height)}`
      : `${length(blank.width)} ${blank.section}`
    : '';
  const form = Array.isArray(raw.form) ? raw.form.length : 0;
  const summaries: Record<StepName, string> = {
    bench: job ? job.bench.label : String(part?.bench ?? ''),
    blank: job && blank ? `${across}, ${length(blank.to - blank.from)} long, ${job.material.label}` : '',
    form: `${form} element${form === 1 ? '' : 's'}`,
    carving: carvingNames(raw) || 'none',
    cutting: fresh ? `${fresh.programs.length} programs, ${minutes(fresh.time_s)}` : 'not planned yet',
    strength: fit
      ? `gives ${giveText(fit.strength.worstDeflection, w.shownUnits)}, holds ${factor(fit.strength.safetyFactor)} times`
      : '',
    proof: fresh ? (fresh.verdict === 'proven' ? 'proven, nothing gouged' : 'refused') : 'not proven yet',
    'take-away': fresh?.verdict === 'proven' ? 'programs, solid, sheet' : 'solid only',
  };
  const order: StepName[] = ['bench', 'blank', 'form', 'carving', 'cutting', 'strength', 'proof', 'take-away'];
  const late: StepName[] = ['cutting', 'proof', 'take-away'];
  const toMend = order.filter((name) => refusals.some((p) => stepOf(p) === name));
  return order.map((name): Step => {
    const stop = refusals.find((p) => stepOf(p) === name);
    const warn = warnings.find((p) => stepOf(p) === name);
    const step = (state: Step['state'], todo: string, problem?: Problem): Step => ({
      name,
      state,
      summary: summaries[name],
      todo,
      leadsTo: leadsTo(name, problem),
      ...(problem?.changes?.[0] ? { mend: problem.changes[0] } : {}),
    });
    if (stop) return step('stopped', sentence(stop), stop);
    // Without a job nothing is known of how the part holds, and its blank is not that of the form as it is now.
    const awaits = name === 'strength' ? toMend : name === 'blank' ? toMend.filter((m) => m !== 'carving') : [];
    if (!w.job && awaits.length) return step('waiting', firstMend(awaits));
    if (name === 'strength' && w.fit.status === 'failed')
      return step('attention', `It could not be worked out: ${w.fit.message}`);
    if (name === 'strength' && !fit)
      return step('waiting', job ? 'Being worked out' : 'Needs a form, a blank and a bench');
    if (late.includes(name) && refusals.length) return step('waiting', firstMend(toMend));
    if (late.includes(name) && build.status === 'working')
      return step('waiting', `${build.what}, ${Math.round(build.share * 100)} %`);
    if (late.includes(name) && build.status === 'failed')
      return step('stopped', `The planner failed: ${build.message}`);
    if (late.includes(name) && !fresh)
      return {
        ...step('attention', name === 'proof' ? 'Press Prove to make and check the programs' : 'Prove it first'),
        proves: true,
      };
    if (fresh?.verdict === 'refused' && name === 'take-away')
      return step('stopped', 'Refused: what is wrong stands at the proof');
    if (fresh?.verdict === 'refused' && name === 'proof') {
      const worst = fresh.findings.find((f) => f.severity === 'refuse');
      const problem = fresh.problems.find((p) => p.severity === 'refuse');
      return step('stopped', worst ? findingWords(worst) : problem ? sentence(problem) : 'Refused');
    }
    if (warn) return step('attention', sentence(warn), warn);
    return step('done', '');
  });
}

const sameSelection = (a: Selection, b: Selection): boolean =>
  a.kind === 'step' ? b.kind === 'step' && a.step === b.step : b.kind === a.kind && b.index === a.index;

/**
 * The step whose whole sentence stands under the strip.
 * @returns the selected one if it asks for something, else the first that stops, else the first that asks, else the selected one
 */
export function toldStep(steps: readonly Step[], selection: Selection): Step | undefined {
  const stops = (s: Step) => s.state === 'stopped';
  const asks = (s: Step) => stops(s) || s.state === 'attention';
  const chosen = steps.filter(
    (s) => sameSelection(s.leadsTo, selection) || (selection.kind === 'step' && selection.step === s.name),
  );
  // Of the steps that wait for the proof, the proof's own sentence says what to do.
  const first = steps.find((s) => asks(s) && (!s.proves || s.name === 'proof'));
  return chosen.find(asks) ?? steps.find(stops) ?? first ?? chosen[0] ?? steps.find((s) => s.name === 'proof');
}
