/** Which bits a program was written for. */
import type { Job, Tool } from '../../cam/job.ts';

/**
 * @param job whose bits are known @param names labels as the build tells them, joined by commas
 * @returns those bits in their roles, in order; the roughing bit where a name is not known
 */
export function toolsOf(job: Job, names: string): Tool[] {
  const { roughing, finishing, detail, drills } = job.tools;
  const known = [roughing, finishing, ...detail, ...drills].sort((a, b) => b.bit.label.length - a.bit.label.length);
  const found: Tool[] = [];
  let rest = names;
  while (rest) {
    const tool = known.find(({ bit }) => rest === bit.label || rest.startsWith(`${bit.label}, `));
    if (!tool) break;
    found.push(tool);
    rest = rest.slice(tool.bit.label.length + 2);
  }
  return found.length ? found : [roughing];
}
