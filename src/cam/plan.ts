/** Assembles the whole plan: stages in their order, programs by bit. */
import type { Job, Plan, PlannedProgram, Tool } from './job.ts';
import type { Pass } from './path.ts';
import { type Stage, type StageContext, stageContext } from './stages/context.ts';
import { corners } from './stages/corners.ts';
import { roughing } from './stages/roughing.ts';

/** A stage and the tool that does it. */
interface Step {
  readonly what: string;
  readonly stage: Stage;
  readonly tool: Tool;
}

function stepsOf(job: Job): Step[] {
  const { tools } = job;
  return [
    { what: 'corners', stage: corners, tool: tools.roughing },
    { what: 'roughing', stage: roughing, tool: tools.roughing },
  ];
}

/**
 * Plans every stage of a job.
 * @param progress called with a share 0…1 and what is being done; may throw to stop
 * @returns programs in run order, one for each change of bit; what the planner wants said
 */
export function planJob(job: Job, progress: (share: number, what: string) => void = () => undefined): Plan {
  const steps = stepsOf(job);
  let at = 0;
  const ctx: StageContext = stageContext(job, (share, what) => progress((at + share) / steps.length, what));
  const programs: { tool: Tool; passes: Pass[] }[] = [];
  for (const step of steps) {
    const last = programs.at(-1);
    const same = last && last.tool.bit.id === step.tool.bit.id;
    const before = ctx.at;
    if (!same) ctx.at = undefined;
    const passes = step.stage(ctx, step.tool);
    if (passes.length === 0) ctx.at = before;
    else if (same) last.passes.push(...passes);
    else programs.push({ tool: step.tool, passes });
    at++;
    progress(at / steps.length, step.what);
  }
  return { programs: programs satisfies PlannedProgram[], problems: ctx.problems };
}
