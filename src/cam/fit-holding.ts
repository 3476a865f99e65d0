/** Whether the chuck can hold this blank, and what holds it carries what the bit does to it. */
import type { Bench } from '../../shared/catalog.ts';
import type { Change, Problem } from '../../shared/problems.ts';
import { type Blank, innerRadius, outerRadius } from './blank.ts';
import type { Job } from './job.ts';
import { change, downTo, mm, narrower, otherBench, upTo } from './mend.ts';
import { rotaryStep } from './rotary-step.ts';
import { NECK_SAFETY, roughingForce, stubRadiusFor } from './strength.ts';

type Chuck = Bench['chuck'];

/** A rectangle this close to square is held by jaws that move together, mm. */
const NEARLY_SQUARE = 0.3;
/** Share of the rotary's holding torque beyond which a warning is due: moving motors hold less (common practice, no source). */
const TORQUE_SHARE = 0.6;
/** A tenon is at least this share as thick as its stock: a long lever on a thin peg works loose (common practice, no source). */
const TENON_SHARE = 0.5;

/** Jaws, grip, stubs, torque, steps. */
export function holdingFit(job: Job): Problem[] {
  return [...jawFit(job), ...stubFit(job), ...torqueFit(job), ...stepFit(job)];
}

/** Torque of roughing at the corners: the most that the jaws, stubs and rotary must hold. @returns N·mm */
const mostTorque = (job: Job): number => roughingForce(job) * outerRadius(job.blank);

/** Diameter of a round end that carries the torque with fourfold safety and suits the chuck; undefined if none does. @returns mm */
export function tenonFor(job: Job): number | undefined {
  const { chuck } = job.bench;
  const across = 2 * innerRadius(job.blank);
  const needed = Math.max(2 * stubRadiusFor(mostTorque(job), job.material), TENON_SHARE * across, chuck.gripMin);
  const most = Math.min(across, chuck.gripMax);
  return needed <= most ? Math.min(downTo(most, 0.5), upTo(needed, 1)) : undefined;
}

function tenon(job: Job): Change[] {
  const diameter = tenonFor(job);
  if (diameter === undefined) return [];
  return [
    change(`a round tenon of ${diameter} mm for the jaws, turned or glued on`, {
      path: 'holding.tenon',
      value: { diameter },
    }),
  ];
}

/** Sections that these jaws take, for stock that they do not. */
function otherStock(job: Job): Change[] {
  const { blank, bench } = job;
  if (blank.section === 'rectangle' || job.field.kept.length) return [];
  const width = { path: 'blank.width', value: blank.width };
  const fits = bench.chuck.gripMax >= blank.width && bench.chuck.gripMin <= blank.width;
  if (!fits) return [];
  const out = [change(`round stock ${mm(blank.width)} mm thick`, { path: 'blank.section', value: 'round' }, width)];
  const sides = [6, 8, 12].find((n) => n !== blank.sides && jawsMeetFlats(bench.chuck.jaws, n));
  if (sides)
    out.push(
      change(
        `stock with ${sides} flats, ${mm(blank.width)} mm across them`,
        { path: 'blank.section', value: 'polygon' },
        { path: 'blank.sides', value: sides },
        width,
      ),
    );
  return out;
}

/** Whether every jaw lands on a flat: jaws and flats must share their symmetry. */
const jawsMeetFlats = (jaws: number, flats: number): boolean => flats % jaws === 0;

/** A rectangle of two sizes in jaws that all move together: only two of four would touch. */
const offSquare = (blank: Blank, chuck: Chuck): boolean =>
  blank.section === 'rectangle' &&
  chuck.selfCentring &&
  chuck.jaws > 2 &&
  Math.abs(blank.width - blank.height) > NEARLY_SQUARE;

const flatsOf = (blank: Blank): number => (blank.section === 'round' ? 0 : blank.sides);

/** Whether a chuck takes a blank from outside: its number of jaws, its way of closing, its range. */
function takes(chuck: Chuck, blank: Blank): boolean {
  const [least, most] = gripped(blank, chuck.jaws);
  const flats = flatsOf(blank);
  return (
    (flats === 0 || jawsMeetFlats(chuck.jaws, flats)) &&
    !offSquare(blank, chuck) &&
    least >= chuck.gripMin &&
    most <= chuck.gripMax
  );
}

function jawFit(job: Job): Problem[] {
  const { bench, blank, holding } = job;
  const { chuck } = bench;
  const problems: Problem[] = [];
  const refuse = (
    message: string,
    allowed: string,
    changes: Change[],
    measure?: Problem['measure'],
    path = 'holding',
  ) =>
    problems.push({
      code: 'jaws',
      severity: 'refuse',
      path,
      message,
      allowed,
      changes,
      ...(measure ? { measure } : {}),
    });
  const elsewhere = otherBench(job, (b) => takes(b.chuck, blank) && b.swing >= 2 * outerRadius(blank));
  if (holding.inside) problems.push(...insideFit(job));
  else if (holding.tenon) problems.push(...tenonFit(job, holding.tenon.diameter));
  else {
    const flats = flatsOf(blank);
    if (flats > 0 && !jawsMeetFlats(chuck.jaws, flats))
      refuse(
        `${chuck.jaws} jaws do not seat on ${flats} flats`,
        `turn a round tenon on the blank's end, use a round${chuck.jaws === 3 ? ' or six-sided' : ''} blank, or a chuck with ${flats % 4 === 0 ? 4 : flats} jaws`,
        [...tenon(job), ...otherStock(job), ...fromInside(job), ...elsewhere],
      );
    if (offSquare(blank, chuck))
      refuse(
        `jaws that move together cannot hold ${mm(blank.width)} x ${mm(blank.height)} mm: ${mm(Math.abs(blank.width - blank.height) / 2)} mm of air stay under two of them`,
        'a chuck with independent jaws, a round tenon, or a square blank',
        [...tenon(job), ...elsewhere],
        { got: Math.abs(blank.width - blank.height), bound: NEARLY_SQUARE, unit: 'mm' },
      );
    const [least, most] = gripped(blank, chuck.jaws);
    if (least < chuck.gripMin || most > chuck.gripMax) {
      const got = least < chuck.gripMin ? least : most;
      const bound = least < chuck.gripMin ? chuck.gripMin : chuck.gripMax;
      refuse(
        `the blank is ${mm(got)} mm where the jaws take it, they take ${chuck.gripMin} to ${chuck.gripMax} mm: ${mm(Math.abs(got - bound))} mm too ${got < bound ? 'little' : 'much'}`,
        `a blank or a turned tenon between ${chuck.gripMin} and ${chuck.gripMax} mm`,
        [...tenon(job), ...(got > bound ? narrower(job, bound) : []), ...fromInside(job), ...elsewhere],
        { got, bound, unit: 'mm' },
      );
    }
  }
  if (holding.chuckGrip > chuck.jawDepth)
    problems.push({
      code: 'jaws',
      severity: 'warn',
      path: 'holding.chuckGrip',
      message: `${mm(holding.chuckGrip)} mm of grip, the jaws are ${chuck.jawDepth} mm deep`,
      allowed: `at most ${chuck.jawDepth} mm`,
      measure: { got: holding.chuckGrip, bound: chuck.jawDepth, unit: 'mm' },
      changes: [change(`a grip of ${chuck.jawDepth} mm`, { path: 'holding.chuckGrip', value: chuck.jawDepth })],
    });
  return problems;
}

/** Smallest and largest size between opposite jaws, mm. */
function gripped(blank: Blank, jaws: number): [number, number] {
  if (blank.section !== 'rectangle') return [2 * innerRadius(blank), 2 * innerRadius(blank)];
  const sizes = [blank.width, blank.height];
  return jaws === 2 ? [Math.min(...sizes), Math.min(...sizes)] : [Math.min(...sizes), Math.max(...sizes)];
}

/** A tube may be held from inside whatever its outside is. */
function fromInside(job: Job): Change[] {
  const { insideMin, insideMax } = job.bench.chuck;
  const bore = job.blank.bore ?? 0;
  return bore >= insideMin && bore <= insideMax && bore > 0
    ? [change('jaws spread inside its bore', { path: 'holding.inside', value: true })]
    : [];
}

function insideFit(job: Job): Problem[] {
  const { insideMin, insideMax } = job.bench.chuck;
  const { bore } = job.blank;
  if (bore !== undefined && bore >= insideMin && bore <= insideMax) return [];
  const got = bore ?? 0;
  return [
    {
      code: 'jaws',
      severity: 'refuse',
      path: 'holding.inside',
      message: bore
        ? `the bore is ${mm(bore)} mm, spread jaws take ${insideMin} to ${insideMax} mm`
        : 'solid stock has no inside for the jaws to spread in',
      allowed: `a bore of ${insideMin} to ${insideMax} mm, or jaws on the outside`,
      measure: { got, bound: got < insideMin ? insideMin : insideMax, unit: 'mm' },
      changes: [change('jaws on the outside', { path: 'holding.inside', value: null })],
    },
  ];
}

/** A round end for the jaws: whether they take it, and whether it carries the torque. */
function tenonFit(job: Job, diameter: number): Problem[] {
  const { chuck } = job.bench;
  const problems: Problem[] = [];
  if (diameter < chuck.gripMin || diameter > chuck.gripMax)
    problems.push({
      code: 'jaws',
      severity: 'refuse',
      path: 'holding.tenon.diameter',
      message: `the tenon is ${mm(diameter)} mm thick, the jaws take ${chuck.gripMin} to ${chuck.gripMax} mm`,
      allowed: `between ${chuck.gripMin} and ${chuck.gripMax} mm`,
      measure: { got: diameter, bound: diameter < chuck.gripMin ? chuck.gripMin : chuck.gripMax, unit: 'mm' },
      changes: tenon(job),
    });
  const needed = 2 * stubRadiusFor(mostTorque(job), job.material);
  if (diameter < needed)
    problems.push({
      code: 'stub-too-thin',
      severity: 'refuse',
      path: 'holding.tenon.diameter',
      message: `the tenon of ${mm(diameter)} mm must carry ${(mostTorque(job) / 1000).toFixed(2)} Nm of roughing, which with ${NECK_SAFETY}-fold safety needs ${mm(needed)} mm`,
      allowed: `at least ${upTo(needed, 0.5)} mm`,
      measure: { got: diameter, bound: needed, unit: 'mm' },
      changes: tenon(job),
    });
  if (!problems.length)
    problems.push({
      code: 'jaws',
      severity: 'note',
      path: 'holding.tenon',
      message: `before anything else: turn the stock's chuck end to a tenon of ${mm(diameter)} mm over ${mm(job.holding.chuckGrip)} mm, or glue one on and let it set; its shoulder bears on the jaws`,
    });
  return problems;
}

/** The turned wood beside the form at the chuck: it carries all torque until the part is sawn off. */
function stubFit(job: Job): Problem[] {
  const { stubs } = job;
  const torque = mostTorque(job);
  const needed = stubRadiusFor(torque, job.material);
  const parting = partingFit(job, torque, needed);
  if (stubs.chuck.to <= stubs.chuck.from || stubs.chuck.radius >= needed) return parting;
  const share = (stubs.chuck.radius / needed) ** 3;
  const stepDown = downTo(job.tools.roughing.limits.stepDown * share, 0.1);
  return [
    {
      code: 'stub-too-thin',
      severity: 'warn',
      path: 'holding',
      message: `the stub at the chuck may be turned to a radius of ${mm(stubs.chuck.radius)} mm; ${(torque / 1000).toFixed(2)} Nm of the bit with ${NECK_SAFETY}-fold safety need ${mm(needed)} mm`,
      allowed: `a stub of at least ${mm(2 * needed)} mm in diameter, or a smaller step-down`,
      measure: { got: stubs.chuck.radius, bound: needed, unit: 'mm' },
      changes:
        stepDown >= 0.1
          ? [change(`roughing in layers of ${stepDown} mm`, { path: 'feeds.roughing.stepDown', value: stepDown })]
          : [],
    },
    ...parting,
  ];
}

/** Necks between pieces on one stick carry what the stub at the chuck does. */
function partingFit(job: Job, torque: number, needed: number): Problem[] {
  const radius = Math.min(Infinity, ...(job.stubs.between ?? []).map((s) => s.radius));
  if (radius >= needed) return [];
  return [
    {
      code: 'stub-too-thin',
      severity: 'warn',
      path: 'form',
      message: `the thinnest parting groove is turned to a radius of ${mm(radius)} mm; ${(torque / 1000).toFixed(2)} Nm of the bit with ${NECK_SAFETY}-fold safety need ${mm(needed)} mm`,
      allowed: `a neck of at least ${mm(2 * needed)} mm in diameter, or a smaller step-down`,
      measure: { got: radius, bound: needed, unit: 'mm' },
    },
  ];
}

function torqueFit(job: Job): Problem[] {
  const torque = mostTorque(job) / 1000;
  const { holdingTorque } = job.bench.rotary;
  if (torque <= holdingTorque * TORQUE_SHARE) return [];
  const { limits } = job.tools.roughing;
  const share = (holdingTorque * TORQUE_SHARE) / torque;
  const stepDown = downTo(limits.stepDown * share, 0.1);
  const feed = downTo(limits.feed * share, 10);
  return [
    {
      code: 'rotary-torque',
      severity: torque > holdingTorque ? 'refuse' : 'warn',
      path: 'bench.rotary',
      message: `the bit pushes with ${torque.toFixed(2)} Nm at the corners (${roughingForce(job).toFixed(1)} N at ${mm(outerRadius(job.blank))} mm), the rotary holds ${holdingTorque} Nm standing still`,
      allowed: `at most ${(holdingTorque * TORQUE_SHARE).toFixed(2)} Nm: a smaller step-down, a slower feed or a smaller blank`,
      measure: { got: torque, bound: holdingTorque * TORQUE_SHARE, unit: 'Nm' },
      changes: [
        ...(stepDown >= 0.1
          ? [change(`roughing in layers of ${stepDown} mm`, { path: 'feeds.roughing.stepDown', value: stepDown })]
          : []),
        ...(feed >= 50
          ? [change(`a roughing feed of ${feed} mm/min`, { path: 'feeds.roughing.feed', value: feed })]
          : []),
        ...otherBench(job, (b) => b.rotary.holdingTorque * TORQUE_SHARE >= torque),
      ],
    },
  ];
}

/** Whether the rotary's own steps show on the widest place. */
function stepFit(job: Job): Problem[] {
  const step = job.field.maxRadius * rotaryStep(job.bench.rotary);
  if (step <= job.tolerance) return [];
  const tolerance = upTo(step, 0.005);
  return [
    {
      code: 'rotary-precision',
      severity: 'warn',
      path: 'bench.rotary',
      message: `one step of the rotary moves the surface ${step.toFixed(3)} mm at a radius of ${mm(job.field.maxRadius)} mm, the tolerance is ${job.tolerance} mm`,
      allowed: 'more microsteps or reduction, or a wider tolerance',
      measure: { got: step, bound: job.tolerance, unit: 'mm' },
      changes: [
        ...(tolerance <= 0.5
          ? [change(`a tolerance of ${tolerance} mm`, { path: 'tolerance', value: tolerance })]
          : []),
        ...otherBench(job, (b) => job.field.maxRadius * rotaryStep(b.rotary) <= job.tolerance),
      ],
    },
  ];
}
