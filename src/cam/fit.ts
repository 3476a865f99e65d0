/** Whether blank, bits and material fit the bench, before anything is planned: each answer with its numbers and a way out. */
import type { Problem } from '../../shared/problems.ts';
import { CLEARANCE } from '../../shared/tolerances.ts';
import { outerRadius } from './blank.ts';
import { bitFit } from './fit-bits.ts';
import { blankFit } from './fit-blank.ts';
import { holdingFit } from './fit-holding.ts';
import type { Job } from './job.ts';
import { strengthOf } from './strength.ts';

/** Length over diameter beyond which a part between two ends wants lighter cuts or a steady (common practice, no source). */
const SLENDER = 12;

/** Everything that speaks against making this part on this bench, worst first within each subject. */
export function checkFit(job: Job): Problem[] {
  return [...blankFit(job), ...roomFit(job), ...holdingFit(job), ...bitFit(job), ...holdFit(job), ...hazards(job)];
}

/** Swing, bed, lengths. */
function roomFit(job: Job): Problem[] {
  const { bench, blank, holding, field } = job;
  const problems: Problem[] = [];
  const diagonal = 2 * outerRadius(blank);
  if (diagonal > bench.swing)
    problems.push({
      code: 'swing',
      severity: 'refuse',
      path: 'blank',
      message: `the blank's corners turn through ${fixed(diagonal)} mm, the bench swings ${fixed(bench.swing)} mm`,
      allowed: `a blank at most ${fixed(bench.swing)} mm across the corners, or plane its corners off first`,
    });
  const below = diagonal / 2 + CLEARANCE;
  if (below > bench.bedBelow)
    problems.push({
      code: 'swing',
      severity: 'refuse',
      path: 'blank',
      message: `the corners need ${fixed(below)} mm below the centre, the bed is ${fixed(bench.bedBelow)} mm below it`,
      allowed: `a blank at most ${fixed(2 * (bench.bedBelow - CLEARANCE))} mm across the corners`,
    });
  const between = blank.to - blank.from - holding.chuckGrip;
  if (between > bench.betweenCentres)
    problems.push({
      code: 'blank-too-long',
      severity: 'refuse',
      path: 'blank',
      message: `${fixed(between)} mm stand between chuck and centre, the bench takes ${fixed(bench.betweenCentres)} mm`,
      allowed: `shorten part or stubs by ${fixed(between - bench.betweenCentres)} mm`,
    });
  const widest = Math.max(job.tools.roughing.bit.diameter, job.tools.finishing.bit.diameter);
  const from = Math.min(0, job.stubs.chuck.from) - widest / 2;
  const to = Math.max(field.length, job.stubs.tail.to) + widest / 2;
  if (to - from > bench.axialTravel)
    problems.push({
      code: 'travel',
      severity: 'refuse',
      path: 'bench',
      message: `the bits must travel ${fixed(to - from)} mm along the part with its run-off, the bench travels ${fixed(bench.axialTravel)} mm`,
      allowed: `shorten part or stubs by ${fixed(to - from - bench.axialTravel)} mm`,
    });
  return problems;
}

/** Bending and slenderness. */
function holdFit(job: Job): Problem[] {
  const strength = strengthOf(job);
  const problems: Problem[] = [];
  const bend = strength.finishingDeflection;
  if (bend > job.tolerance)
    problems.push({
      code: 'bends',
      severity: 'warn',
      path: 'form',
      message: `the part gives ${bend.toFixed(2)} mm under the finishing bit's ${strength.finishingForce.toFixed(1)} N (tolerance ${job.tolerance} mm), so it comes out thicker there`,
      allowed: 'a steady, a smaller allowance, a slower finishing feed or a thicker part',
    });
  if (strength.safetyFactor < 2)
    problems.push({
      code: 'slender',
      // Roughing can still be made lighter; what finishing breaks cannot be made at all.
      severity: strength.finishingSafety < 1 ? 'refuse' : 'warn',
      path: 'form',
      message: `under the bit the part has only ${strength.safetyFactor.toFixed(1)} times the strength it needs, weakest at x = ${fixed(strength.weakestX)} mm`,
      allowed: 'a smaller step-down, a thicker neck, or a steady',
    });
  const ratio = job.field.length / (2 * job.field.minRadius);
  if (ratio > SLENDER && bend <= job.tolerance)
    problems.push({
      code: 'slender',
      severity: 'note',
      path: 'form',
      message: `the part is ${Math.round(ratio)} times as long as its thinnest diameter; it may hum`,
      allowed: 'lighter cuts or a steady if it does',
    });
  return problems;
}

function hazards(job: Job): Problem[] {
  if (!job.material.caution) return [];
  return [
    { code: 'hazard', severity: 'note', path: 'blank.material', message: job.material.caution.replace(/\.$/, '') },
  ];
}

/** Millimetres with one decimal. */
const fixed = (value: number): string => String(Number(value.toFixed(1)));
