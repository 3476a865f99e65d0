/** Whether spindle and rotary can do what the bits are asked, and the bits run off clear of what holds the work. */
import type { Change, Problem } from '../../shared/problems.ts';
import { CLEARANCE } from '../../shared/tolerances.ts';
import { perMinute, perSecond, TURN } from '../../shared/units.ts';
import { rotaryMax } from './block-time.ts';
import { cuttingPower, removalRate } from './cutting.ts';
import type { Job } from './job.ts';
import { change, downTo, mm, otherBench, type Role, rolesOf } from './mend.ts';

const ANGLES = 36;

export function bitFit(job: Job): Problem[] {
  const roles = rolesOf(job);
  return [...roles.flatMap((r) => spindle(job, r)), ...runOff(job, roles), ...pace(job)];
}

/** Where the document may ask for a number of a bit. */
const feedPath = (role: Role, key: string): string => `feeds.${role.kind}.${key}`;

function spindle(job: Job, role: Role): Problem[] {
  const { bench, material } = job;
  const { rpm, stepDown, stepOver, feed, asked } = role.tool.limits;
  const problems: Problem[] = [];
  if (rpm < bench.spindleMin || rpm > bench.spindleMax)
    problems.push({
      code: 'spindle-speed',
      severity: 'refuse',
      path: asked?.rpm === undefined ? role.path : feedPath(role, 'rpm'),
      message: `${rpm} rpm, the spindle turns ${bench.spindleMin} to ${bench.spindleMax} rpm`,
      allowed: 'a speed within that range',
      measure: { got: rpm, bound: rpm < bench.spindleMin ? bench.spindleMin : bench.spindleMax, unit: 'rpm' },
      changes: [change('the speed that suits bit and material', { path: feedPath(role, 'rpm'), value: null })],
    });
  const power = cuttingPower(removalRate(stepDown, stepOver, feed), material.cuttingForce);
  if (power > bench.spindlePower) {
    const most = Math.floor((feed * bench.spindlePower) / power);
    const changes: Change[] = [];
    if (role.kind === 'roughing') {
      changes.push(
        change(`a feed of ${downTo(most, 10)} mm/min`, {
          path: feedPath(role, 'feed'),
          value: Math.max(5, downTo(most, 10)),
        }),
      );
      const depth = downTo((stepDown * bench.spindlePower) / power, 0.1);
      if (depth >= 0.1)
        changes.push(change(`layers ${depth} mm deep`, { path: feedPath(role, 'stepDown'), value: depth }));
    }
    if (asked)
      changes.push(
        change('the numbers that spindle, bit and material give', { path: `feeds.${role.kind}`, value: null }),
      );
    problems.push({
      code: 'spindle-power',
      severity: 'refuse',
      path: asked ? `feeds.${role.kind}` : role.path,
      message: `${tidyPower(power)} W are asked of a spindle with ${bench.spindlePower} W: ${mm(stepDown)} mm deep, ${mm(stepOver)} mm wide, ${feed} mm/min in ${material.label}`,
      allowed: `a feed of at most ${most} mm/min at this depth`,
      measure: { got: power, bound: bench.spindlePower, unit: 'W' },
      changes: [...changes, ...otherBench(job, (b) => b.spindlePower >= power && b.stiffness >= bench.stiffness)],
    });
  }
  return problems;
}

/** Watts; below a hundred with a decimal. */
const tidyPower = (power: number): string => String(Number(power.toFixed(power < 100 ? 1 : 0)));

/** The bit, its holder and the spindle's mount where they come low, beside what holds the work. */
function runOff(job: Job, roles: readonly Role[]): Problem[] {
  const { field } = job;
  const problems: Problem[] = [];
  for (const { path, tool } of roles) {
    const { bit } = tool;
    for (const k of job.keepOut) {
      const chuck = k.to <= 0;
      if (!chuck && k.from < field.length) continue;
      const gap = chuck ? -k.to : k.from - field.length;
      const end = chuck ? 0 : field.length;
      let radius = Infinity;
      for (let j = 0; j < ANGLES; j++) radius = Math.min(radius, field.radius(end, (j * TURN) / ANGLES));
      const parts = [
        { what: 'the bit', from: radius, half: bit.diameter / 2 },
        { what: 'its holder', from: radius + bit.stickOut, half: bit.holder / 2 },
        {
          what: 'the spindle’s mount',
          from: radius + bit.stickOut + bit.holderLength,
          half: job.bench.overhang ?? bit.holder / 2,
        },
      ];
      for (const part of parts)
        if (k.radius + CLEARANCE > part.from && part.half + CLEARANCE > gap) {
          const lacking = part.half + CLEARANCE - gap;
          const stub = Math.ceil((chuck ? job.holding.chuckStub : job.holding.tailStub) + lacking);
          problems.push({
            code: 'travel',
            severity: part.what === 'the bit' ? 'refuse' : 'warn',
            path,
            message: `at the form's end ${part.what} (${bit.label}, ${mm(2 * part.half)} mm) stands ${mm(gap)} mm from the ${k.what}`,
            allowed: `a stub ${mm(lacking)} mm longer, or a ${part.what === 'the bit' ? 'thinner bit' : 'longer stick-out'}`,
            x: end,
            measure: { got: gap, bound: part.half + CLEARANCE, unit: 'mm' },
            changes: [
              change(
                `a stub of ${stub} mm at that end`,
                { path: chuck ? 'holding.chuckStub' : 'holding.tailStub', value: stub },
                ...(job.holding.chuckGrip ? [{ path: 'blank.length', value: null }] : []),
              ),
            ],
          });
          break;
        }
    }
  }
  return problems;
}

/** Where the rotary, not the feed, sets the pace: v = 2πrn. */
function pace(job: Job): Problem[] {
  const { limits } = job.tools.finishing;
  const { field, bench } = job;
  const turning = rotaryMax(bench);
  const radius = perSecond(limits.finishFeed) / turning;
  if (job.plan.finishing !== 'spiral' || field.minRadius >= radius) return [];
  const asked = limits.asked?.feed;
  const best = perMinute(field.maxRadius * turning);
  // A feed that somebody asked for and that is reached nowhere on the part is no feed at all.
  if (asked !== undefined && field.maxRadius < radius) {
    const wanted = perMinute(perSecond(asked) / (TURN * field.maxRadius));
    return [
      {
        code: 'rotary-speed',
        severity: 'warn',
        path: 'feeds.finishing.feed',
        message: `${asked} mm/min round a radius of ${mm(field.maxRadius)} mm are ${wanted.toFixed(2)} turns a minute, the rotary does ${bench.rotary.maxSpeed}: it comes out at ${Math.floor(best)} mm/min`,
        allowed: `at most ${Math.floor(best)} mm/min, or strokes along the axis, which need no turning`,
        measure: { got: wanted, bound: bench.rotary.maxSpeed, unit: 'rpm' },
        changes: [
          change(`a finishing feed of ${downTo(best, 10)} mm/min`, {
            path: 'feeds.finishing.feed',
            value: downTo(best, 10),
          }),
          change('finishing in strokes along the axis', { path: 'plan.finishing', value: 'along' }),
          ...otherBench(job, (b) => b.rotary.maxSpeed >= wanted),
        ],
      },
    ];
  }
  return [
    {
      code: 'rotary-speed',
      severity: 'note',
      path: 'bench.rotary',
      message: `below a radius of ${mm(radius)} mm the rotary's ${bench.rotary.maxSpeed} turns a minute set the pace, not the finishing feed`,
    },
  ];
}
