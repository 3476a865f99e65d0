/** Whether the chuck can hold this blank, and the stubs carry what the bit does to them. */
import type { Problem } from '../../shared/problems.ts';
import { type Blank, innerRadius, outerRadius } from './blank.ts';
import type { Job } from './job.ts';
import { rotaryStep } from './rotary-step.ts';
import { NECK_SAFETY, roughingForce, stubRadiusFor } from './strength.ts';

/** A rectangle this close to square is held by jaws that move together, mm. */
const NEARLY_SQUARE = 0.3;
/** Share of the rotary's holding torque beyond which a warning is due: moving motors hold less (common practice, no source). */
const TORQUE_SHARE = 0.6;

/** Jaws, grip, stubs, torque, steps. */
export function holdingFit(job: Job): Problem[] {
  return [...jawFit(job), ...stubFit(job), ...torqueFit(job), ...stepFit(job)];
}

function jawFit(job: Job): Problem[] {
  const { bench, blank, holding } = job;
  const { chuck } = bench;
  const problems: Problem[] = [];
  const flats = blank.section === 'round' ? 0 : blank.sides;
  if (flats > 0 && !jawsMeetFlats(chuck.jaws, flats))
    problems.push({
      code: 'jaws',
      severity: 'refuse',
      path: 'holding',
      message: `${chuck.jaws} jaws do not seat on ${flats} flats`,
      allowed: `turn a round tenon on the blank's end, use a round${chuck.jaws === 3 ? ' or six-sided' : ''} blank, or a chuck with ${flats % 4 === 0 ? 4 : flats} jaws`,
    });
  const offSquare = Math.abs(blank.width - blank.height);
  if (blank.section === 'rectangle' && chuck.selfCentring && chuck.jaws > 2 && offSquare > NEARLY_SQUARE)
    problems.push({
      code: 'jaws',
      severity: 'refuse',
      path: 'holding',
      message: `jaws that move together cannot hold ${size(blank.width)} x ${size(blank.height)} mm`,
      allowed: 'a chuck with independent jaws, a round tenon, or a square blank',
    });
  const [least, most] = gripped(blank, chuck.jaws);
  if (least < chuck.gripMin || most > chuck.gripMax)
    problems.push({
      code: 'jaws',
      severity: 'refuse',
      path: 'holding',
      message: `the blank is ${size(least === most ? least : least < chuck.gripMin ? least : most)} mm where the jaws take it, they take ${chuck.gripMin} to ${chuck.gripMax} mm`,
      allowed: `a blank or a turned tenon between ${chuck.gripMin} and ${chuck.gripMax} mm`,
    });
  if (holding.chuckGrip > chuck.jawDepth)
    problems.push({
      code: 'jaws',
      severity: 'warn',
      path: 'holding.chuckGrip',
      message: `${size(holding.chuckGrip)} mm of grip, the jaws are ${chuck.jawDepth} mm deep`,
      allowed: `at most ${chuck.jawDepth} mm`,
    });
  return problems;
}

/** Whether every jaw lands on a flat: jaws and flats must share their symmetry. */
const jawsMeetFlats = (jaws: number, flats: number): boolean => flats % jaws === 0;

/** Smallest and largest size between opposite jaws, mm. */
function gripped(blank: Blank, jaws: number): [number, number] {
  if (blank.section !== 'rectangle') return [2 * innerRadius(blank), 2 * innerRadius(blank)];
  const sizes = [blank.width, blank.height];
  return jaws === 2 ? [Math.min(...sizes), Math.min(...sizes)] : [Math.min(...sizes), Math.max(...sizes)];
}

function stubFit(job: Job): Problem[] {
  const { stubs, field } = job;
  const problems: Problem[] = [];
  const torque = roughingForce(job) * outerRadius(job.blank);
  const needed = stubRadiusFor(torque, job.material);
  if (stubs.chuck.to > stubs.chuck.from && stubs.chuck.radius < needed)
    problems.push({
      code: 'stub-too-thin',
      severity: 'warn',
      path: 'holding',
      message: `the stub at the chuck may be turned to a radius of ${size(stubs.chuck.radius)} mm; ${(torque / 1000).toFixed(2)} Nm of the bit with ${NECK_SAFETY}-fold safety need ${size(needed)} mm`,
      allowed: `a stub of at least ${size(2 * needed)} mm in diameter, or a smaller step-down`,
    });
  const thinnest = Math.min(Infinity, ...(stubs.between ?? []).map((s) => s.radius));
  if (thinnest < needed)
    problems.push({
      code: 'stub-too-thin',
      severity: 'warn',
      path: 'form',
      message: `the thinnest parting groove is turned to a radius of ${size(thinnest)} mm; ${(torque / 1000).toFixed(2)} Nm of the bit with ${NECK_SAFETY}-fold safety need ${size(needed)} mm`,
      allowed: `a neck of at least ${size(2 * needed)} mm in diameter, or a smaller step-down`,
    });
  if (field.minRadius < stubRadiusFor(torque, job.material, 1))
    problems.push({
      code: 'slender',
      severity: 'warn',
      path: 'form',
      message: `the thinnest place has a radius of ${size(field.minRadius)} mm; ${(torque / 1000).toFixed(2)} Nm of roughing would shear it`,
      allowed: 'necks are cut last, from the tailstock end; a smaller step-down or a thicker neck helps',
    });
  return problems;
}

function torqueFit(job: Job): Problem[] {
  const torque = (roughingForce(job) * outerRadius(job.blank)) / 1000;
  const { holdingTorque } = job.bench.rotary;
  if (torque <= holdingTorque * TORQUE_SHARE) return [];
  return [
    {
      code: 'rotary-torque',
      severity: torque > holdingTorque ? 'refuse' : 'warn',
      path: 'bench.rotary',
      message: `the bit pushes with ${torque.toFixed(2)} Nm at the corners, the rotary holds ${holdingTorque} Nm standing still`,
      allowed: `at most ${(holdingTorque * TORQUE_SHARE).toFixed(2)} Nm: a smaller step-down, a slower feed or a smaller blank`,
    },
  ];
}

/** Whether the rotary's own steps show on the widest place. */
function stepFit(job: Job): Problem[] {
  const step = job.field.maxRadius * rotaryStep(job.bench.rotary);
  if (step <= job.tolerance) return [];
  return [
    {
      code: 'rotary-precision',
      severity: 'warn',
      path: 'bench.rotary',
      message: `one step of the rotary moves the surface ${step.toFixed(3)} mm at a radius of ${size(job.field.maxRadius)} mm, the tolerance is ${job.tolerance} mm`,
      allowed: 'more microsteps or reduction, or a wider tolerance',
    },
  ];
}

const size = (value: number): string => String(Number(value.toFixed(1)));
