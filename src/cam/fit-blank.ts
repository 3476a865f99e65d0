/** Whether the form lies inside the blank, and by how much it does not. */
import type { Problem } from '../../shared/problems.ts';
import { TURN } from '../../shared/units.ts';
import { type Blank, blankRadius } from './blank.ts';
import type { Job } from './job.ts';

/** Rounding of sizes in a document, mm: a form as wide as its blank still fits. */
const SAME_SIZE = 1e-3;
const STATIONS = 400;
const ANGLES = 180;

/** Form against blank: every station and angle, at shoulders from both sides, arrises included. */
export function blankFit(job: Job): Problem[] {
  const { field, blank } = job;
  const problems: Problem[] = [];
  const xs = Array.from({ length: STATIONS + 1 }, (_, i) => (field.length * i) / STATIONS);
  for (const b of field.breaks) xs.push(b.x);
  let worst = { over: 0, x: 0, theta: 0, radius: 0, has: 0, ratio: 1 };
  for (const x of xs) {
    if (field.kept.some((k) => x >= k.from && x <= k.to)) continue;
    const thetas = Array.from({ length: ANGLES }, (_, j) => (j * TURN) / ANGLES).concat(field.creases(x));
    for (const theta of thetas) {
      const radius = field.radius(x, theta);
      const has = blankRadius(blank, theta);
      if (radius - has > worst.over) worst = { over: radius - has, x, theta, radius, has, ratio: radius / has };
    }
  }
  if (worst.over > SAME_SIZE)
    problems.push({
      code: 'blank-too-small',
      severity: 'refuse',
      path: 'blank',
      message: `at x = ${one(worst.x)} mm the form needs a radius of ${two(worst.radius)} mm, the blank has ${two(worst.has)} mm there (${two(worst.over)} mm short)`,
      allowed: `${sizeText(blank, worst.ratio)}, or a form thinner by ${two(2 * worst.over)} mm in diameter`,
    });
  const short = [
    { by: blank.from, end: 'chuck' },
    { by: field.length - blank.to, end: 'tailstock' },
  ];
  for (const { by, end } of short)
    if (by > SAME_SIZE)
      problems.push({
        code: 'blank-too-small',
        severity: 'refuse',
        path: 'blank',
        message: `the blank ends ${two(by)} mm before the form does at the ${end} end`,
        allowed: `a blank ${two(by)} mm longer`,
      });
  return problems;
}

/** The blank's sizes enlarged so that the form just fits, rounded up to half a millimetre. */
function sizeText(blank: Blank, ratio: number): string {
  const grown = (size: number) => one(Math.ceil(size * ratio * 2 - 1e-9) / 2);
  if (blank.section === 'rectangle') return `a blank of at least ${grown(blank.width)} x ${grown(blank.height)} mm`;
  return `a ${blank.section} blank of at least ${grown(blank.width)} mm`;
}

const one = (value: number): string => String(Number(value.toFixed(1)));
const two = (value: number): string => String(Number(value.toFixed(2)));
