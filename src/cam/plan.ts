/** Assembles the whole plan: stages in their order, programs by bit. */
import type { Job, Plan, Tool } from './job.ts';
import type { Pass } from './path.ts';
import { type Stage, stageContext } from './stages/context.ts';
import { corners } from './stages/corners.ts';
import { finishing } from './stages/finishing.ts';
import { grooves } from './stages/grooves.ts';
import { holes, undrilled } from './stages/holes.ts';
import { necking } from './stages/necking.ts';
import { roughing } from './stages/roughing.ts';

/** A stage, the tool that does it, and its usual share of the planning's time (measured on balusters). */
interface Step {
  readonly what: string;
  readonly stage: Stage;
  readonly tool: Tool;
  readonly weight: number;
}

/** Necks last: until then the stubs carry the torque of everything else. */
function stepsOf(job: Job): Step[] {
  const { tools } = job;
  return [
    { what: 'corners', stage: corners, tool: tools.roughing, weight: 2 },
    { what: 'roughing', stage: roughing, tool: tools.roughing, weight: 3 },
    { what: 'finishing', stage: finishing, tool: tools.finishing, weight: 6 },
    ...tools.detail.map((tool) => ({ what: 'grooves', stage: grooves, tool, weight: 2 })),
    ...tools.drills.map((tool) => ({ what: 'holes', stage: holes, tool, weight: 0.1 })),
    ...(job.plan.necking ? [{ what: 'necking', stage: necking, tool: tools.roughing, weight: 0.5 }] : []),
  ];
}

/** Whether two tools are one bit at one speed, so that their passes may share a program. */
const sameTool = (a: Tool, b: Tool): boolean => a === b || (a.bit === b.bit && a.limits.rpm === b.limits.rpm);

/**
 * Plans every stage of a job.
 * @param progress called with a share 0…1 and what is being done; may throw to stop
 * @returns programs in run order, a new one at each change of bit; what the planner wants said
 */
export function planJob(job: Job, progress: (share: number, what: string) => void = () => undefined): Plan {
  const steps = stepsOf(job);
  const whole = steps.reduce((sum, s) => sum + s.weight, 0);
  let done = 0;
  let now = steps[0]!;
  let told = 0;
  // A stage of several parts may start its own count again; the whole never goes back.
  const tell = (share: number) => {
    told = Math.max(told, Math.min(1, (done + now.weight * share) / whole));
    progress(told, now.what);
  };
  const ctx = stageContext(job, tell);
  const programs: { tool: Tool; passes: Pass[] }[] = [];
  for (const step of steps) {
    now = step;
    tell(0);
    const last = programs.at(-1);
    const goesOn = last !== undefined && sameTool(last.tool, step.tool);
    const before = ctx.at;
    if (!goesOn) ctx.at = undefined;
    const passes = step.stage(ctx, step.tool);
    if (passes.length === 0) ctx.at = before;
    else if (goesOn) last.passes.push(...passes);
    else programs.push({ tool: step.tool, passes });
    done += step.weight;
  }
  ctx.problems.push(...undrilled(ctx));
  progress(1, 'planned');
  return { programs, problems: ctx.problems };
}
