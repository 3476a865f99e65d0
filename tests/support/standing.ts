/** Where the roughing bit's tip may stand over the work, for judges that ask at every ray. */
import { TURN } from '../../shared/units.ts';
import { contactFor } from '../../src/cam/contact.ts';
import type { Job } from '../../src/cam/job.ts';
import { workSurface } from '../../src/cam/work.ts';

/**
 * Asked once for all places that the form's own symmetry makes alike: a prism's four sides, a fluted column's flutes, every
 * angle of a round part. That the contact repeats with the form is a test of the contact itself.
 * @returns lowest tip height at (x, θ ≥ 0), mm
 */
export function standing(job: Job): (x: number, theta: number) => number {
  const contact = contactFor(workSurface(job), job.tools.roughing.bit);
  const period = TURN / job.field.symmetry;
  const known = new Map<string, number>();
  return (x, theta) => {
    const own = period ? theta % period : 0;
    const place = `${x} ${own.toFixed(6)}`;
    const found = known.get(place) ?? contact.lowest(x, own);
    known.set(place, found);
    return found;
  };
}
