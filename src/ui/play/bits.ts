/** Which bits a program was written for. */
import type { Bit } from '../../../shared/catalog.ts';
import type { Job } from '../../cam/job.ts';

/**
 * @param job whose bits are known @param names labels as the build tells them, joined by commas
 * @returns those bits in order; the roughing bit where a name is not known
 */
export function bitsOf(job: Job, names: string): Bit[] {
  const { roughing, finishing, detail, drills } = job.tools;
  const known = [roughing, finishing, ...detail, ...drills]
    .map((t) => t.bit)
    .sort((a, b) => b.label.length - a.label.length);
  const found: Bit[] = [];
  let rest = names;
  while (rest) {
    const bit = known.find((b) => rest === b.label || rest.startsWith(`${b.label}, `));
    if (!bit) break;
    found.push(bit);
    rest = rest.slice(bit.label.length + 2);
  }
  return found.length ? found : [roughing.bit];
}
