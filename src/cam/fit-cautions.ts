/** What a person must know or say before anything is cut: hazardous materials, and parts that protect people. */
import type { Problem } from '../../shared/problems.ts';
import { bendingStress } from './beam.ts';
import type { Job } from './job.ts';
import { change, mm } from './mend.ts';
import { bendingLimit } from './strength.ts';

/** Names by which parts that guard or carry people are known; a name is no proof, so it is asked about. */
const PROTECTS =
  /\b(baluster|balustrade|banister|newel post|guard ?rail|hand ?rail|stair|ladder|rung|crutch|cane|walking stick)s?\b/i;

/** A sphere that must not pass between guards: 4 in (IRC 2018, R312.1.3). */
const SPHERE = 101.6;
/** On a guard's infill: 50 lbf, horizontal (IRC table R301.5, note f). */
const INFILL = 222.411;

/** Plastics that turn as well and give off no chlorine. */
const INSTEAD = ['hdpe', 'pom'];

export const cautionFit = (job: Job): Problem[] => [...hazards(job), ...guards(job)];

function hazards(job: Job): Problem[] {
  const { material } = job;
  const problems: Problem[] = [];
  if (material.mustAcknowledge && job.acknowledged !== material.id)
    problems.push({
      code: 'hazard',
      severity: 'refuse',
      path: 'blank.material',
      message: `${material.label}: ${material.mustAcknowledge}`,
      allowed: `another material, or "acknowledged": "${material.id}" in the blank once all of that is provided for`,
      changes: [
        ...INSTEAD.map((id) => change(`${id.toUpperCase()} instead`, { path: 'blank.material', value: id })),
        change('the dangers met: you have read that and provided for it', {
          path: 'blank.acknowledged',
          value: material.id,
        }),
      ],
    });
  if (material.caution)
    problems.push({
      code: 'hazard',
      severity: 'note',
      path: 'blank.material',
      message: material.caution.replace(/\.$/, ''),
    });
  return problems;
}

/** The local-code note, with the two numbers that a guard is looked at for: the gap beside its thinnest place, and its bending. */
function guards(job: Job): Problem[] {
  const thinnest = 2 * job.field.minRadius;
  const pitch = SPHERE + thinnest;
  // Between rail and tread, a load in the middle: FL/4.
  const stress = bendingStress((INFILL * job.field.length) / 4, thinnest);
  const limit = bendingLimit(job.material);
  const numbers = `as a guard's infill at most ${mm(pitch)} mm from one to the next (a ${SPHERE} mm sphere must not pass beside its thinnest ${mm(thinnest)} mm); 222 N (50 lbf) in its middle: up to ${stress.toFixed(1)} N/mm², weak clear wood bears ${limit.toFixed(0)} before knots and time`;
  if (job.guard)
    return [
      {
        code: 'local-code',
        severity: 'note',
        path: 'guard',
        message: `it protects people: check your local code and have a licensed person judge it, this tool does not certify strength; ${numbers}`,
        measure: { got: thinnest, bound: pitch, unit: 'mm' },
      },
    ];
  if (job.guard === undefined || !PROTECTS.test(job.name)) return [];
  return [
    {
      code: 'local-code',
      severity: 'warn',
      path: 'guard',
      message: `by its name it guards or carries people, and the sheet would not say so: check your local code and have a licensed person judge it; ${numbers}`,
      allowed: '"guard": true, which puts the local-code note on the sheet',
      measure: { got: thinnest, bound: pitch, unit: 'mm' },
      changes: [change('the local-code note on the sheet', { path: 'guard', value: true })],
    },
  ];
}
