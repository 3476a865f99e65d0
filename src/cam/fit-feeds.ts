/** What follows from feeds and speeds that a document asks for itself: chip, bending of the bit, depth against flutes. */
import type { Problem } from '../../shared/problems.ts';
import { hardwoodChipLoad, workingDiameter } from './chip-load.ts';
import { cantileverGive } from './cutting.ts';
import { BIT_GIVE, HARDMETAL } from './feeds.ts';
import type { Job } from './job.ts';
import { change, mm, type Role, rolesOf } from './mend.ts';
import { bitForce } from './strength.ts';

/** A chip this many times thicker than planned overloads the edge; this much thinner it rubs and burns (common practice, no source). */
const THICK = 2;
const THIN = 0.25;
/** What is planned keeps the bit's give to BIT_GIVE; beyond twice that the cut wanders visibly. */
const WANDERS = 2 * BIT_GIVE;

export const feedsFit = (job: Job): Problem[] =>
  rolesOf(job)
    .filter((r) => r.tool.limits.asked)
    .flatMap((r) => askedFit(job, r));

function askedFit(job: Job, role: Role): Problem[] {
  const { bit, limits } = role.tool;
  const { material, bench } = job;
  const path = `feeds.${role.kind}`;
  const finishes = role.kind !== 'roughing';
  const feed = finishes ? limits.finishFeed : limits.feed;
  const chip = feed / (limits.rpm * bit.teeth);
  const planned = hardwoodChipLoad(workingDiameter(bit)) * material.chipLoadFactor * bench.stiffness;
  const own = change('the numbers that bit, material and bench give', { path, value: null });
  const problems: Problem[] = [];
  const say = (message: string, allowed: string, got: number, bound: number, unit: 'mm' | 'times') =>
    problems.push({
      code: 'asked-feeds',
      severity: 'warn',
      path,
      message,
      allowed,
      measure: { got, bound, unit },
      changes: [own],
    });
  if (chip > THICK * planned)
    say(
      `a chip of ${chip.toFixed(3)} mm a tooth, ${(chip / planned).toFixed(1)} times what ${bit.label} is planned to take in ${material.label} on this bench`,
      `up to ${(THICK * planned).toFixed(3)} mm a tooth: a slower feed or a faster spindle`,
      chip,
      THICK * planned,
      'mm',
    );
  if (chip < THIN * planned)
    say(
      `a chip of only ${chip.toFixed(4)} mm a tooth: the edge rubs, heats and dulls`,
      `at least ${(THIN * planned).toFixed(4)} mm a tooth: a faster feed or a slower spindle`,
      chip,
      THIN * planned,
      'mm',
    );
  const force = bitForce(
    role.tool,
    material,
    finishes ? Math.min(limits.stepDown, job.plan.allowance) : limits.stepDown,
    feed,
  );
  const give = cantileverGive(force, bit.stickOut, workingDiameter(bit), HARDMETAL);
  if (give > WANDERS)
    say(
      `${force.toFixed(1)} N bend ${bit.label} by ${give.toFixed(2)} mm at ${mm(bit.stickOut)} mm of stick-out`,
      `up to ${WANDERS} mm: thinner layers, a slower feed, less stick-out or a thicker bit`,
      give,
      WANDERS,
      'mm',
    );
  if (limits.stepDown > bit.fluteLength)
    say(
      `layers of ${mm(limits.stepDown)} mm are deeper than the flutes of ${bit.label} are long (${mm(bit.fluteLength)} mm)`,
      `up to ${mm(bit.fluteLength)} mm`,
      limits.stepDown,
      bit.fluteLength,
      'mm',
    );
  return problems;
}
