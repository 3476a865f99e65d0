/** Whether the form lies inside the blank, and by how much it does not. */
import type { Problem } from '../../shared/problems.ts';
import { TURN } from '../../shared/units.ts';
import { type Blank, blankRadius } from './blank.ts';
import type { Job } from './job.ts';
import { change, downTo, upTo } from './mend.ts';

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
  const even = Float64Array.from({ length: ANGLES }, (_, j) => (j * TURN) / ANGLES);
  const has = Float64Array.from(even, (theta) => blankRadius(blank, theta));
  const ring = new Float64Array(ANGLES);
  const look = (x: number, theta: number, radius: number, room: number) => {
    if (radius - room > worst.over) worst = { over: radius - room, x, theta, radius, has: room, ratio: radius / room };
  };
  for (const x of xs) {
    if (field.kept.some((k) => x >= k.from && x <= k.to)) continue;
    if (field.isRound(x, x)) {
      // Round: the middle of a flat is the nearest face, and θ = 0 or a quarter turn is one.
      const radius = field.radius(x, 0);
      for (const theta of [0, TURN / 4]) look(x, theta, radius, blankRadius(blank, theta));
      continue;
    }
    field.ring(x, even, ring);
    for (let j = 0; j < ANGLES; j++) look(x, even[j]!, ring[j]!, has[j]!);
    for (const theta of field.creases(x)) look(x, theta, field.radius(x, theta), blankRadius(blank, theta));
  }
  if (worst.over > SAME_SIZE)
    problems.push({
      code: 'blank-too-small',
      severity: 'refuse',
      path: 'blank',
      message: `at x = ${one(worst.x)} mm the form needs a radius of ${two(worst.radius)} mm, the blank has ${two(worst.has)} mm there (${two(worst.over)} mm short)`,
      allowed: `${sizeText(blank, worst.ratio)}, or a form thinner by ${two(2 * worst.over)} mm in diameter`,
      x: worst.x,
      measure: { got: worst.radius, bound: worst.has, unit: 'mm' },
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
  if (!problems.length) problems.push(...centreFit(job), ...boreFit(job));
  return problems;
}

/** Distance from a point of the section to the nearest face, mm; negative outside. */
function toFace(blank: Blank, radius: number, theta: number): number {
  if (blank.section === 'round') return blank.width / 2 - radius;
  if (blank.section === 'polygon') {
    const step = TURN / blank.sides;
    return blank.width / 2 - radius * Math.cos(theta - Math.round(theta / step) * step);
  }
  return Math.min(
    blank.height / 2 - radius * Math.abs(Math.cos(theta)),
    blank.width / 2 - radius * Math.abs(Math.sin(theta)),
  );
}

/** Stock whose middle lies off the rotary axis by e: whichever way it lies, e of the wood round the form is gone on one side. */
function centreFit(job: Job): Problem[] {
  const { field, blank, offCentre } = job;
  if (!offCentre) return [];
  let least = { spare: Infinity, x: 0 };
  const xs = Array.from({ length: STATIONS + 1 }, (_, i) => (field.length * i) / STATIONS);
  for (const b of field.breaks) xs.push(b.x);
  for (const x of xs) {
    if (field.kept.some((k) => x >= k.from && x <= k.to)) continue;
    const angles = field.isRound(x, x) ? 8 : ANGLES;
    for (let j = 0; j < angles; j++) {
      const theta = (j * TURN) / angles;
      const spare = toFace(blank, field.radius(x, theta), theta);
      if (spare < least.spare) least = { spare, x };
    }
  }
  const { spare, x } = least;
  const short = offCentre - spare;
  const measure = { got: offCentre, bound: spare, unit: 'mm' as const };
  if (short <= SAME_SIZE)
    return [
      {
        code: 'off-centre',
        severity: 'note',
        path: 'blank.offCentre',
        message: `lying ${two(offCentre)} mm off the centre eats ${two(offCentre)} of the ${two(spare)} mm of wood round the form at x = ${one(x)} mm; the first layer is as much deeper on one side than is planned and proven`,
        x,
        measure,
      },
    ];
  const width = upTo(blank.width + 2 * short, 0.5);
  const tall =
    blank.section === 'rectangle' ? [{ path: 'blank.height', value: upTo(blank.height + 2 * short, 0.5) }] : [];
  const again = downTo(spare, 0.1);
  return [
    {
      code: 'off-centre',
      severity: 'refuse',
      path: 'blank.offCentre',
      message: `the stock's middle lies ${two(offCentre)} mm off the centre, and only ${two(spare)} mm of wood stand round the form at x = ${one(x)} mm: on one side ${two(short)} mm are missing`,
      allowed: `at most ${two(spare)} mm: mark the centres again, or take a blank at least ${width} mm wide`,
      x,
      measure,
      changes: [
        ...(again > 0
          ? [change(`centres marked again, within ${again} mm`, { path: 'blank.offCentre', value: again })]
          : []),
        change(`a blank ${width} mm wide`, { path: 'blank.width', value: width }, ...tall),
      ],
    },
  ];
}

/** Wood that must stay round a tube's bore, mm (common practice, no source). */
const WALL = 1.5;

/** A tube's bore must stay inside the form. */
function boreFit(job: Job): Problem[] {
  const { bore } = job.blank;
  if (!bore) return [];
  const wall = job.field.minRadius - bore / 2;
  if (wall >= WALL - SAME_SIZE)
    return job.holding.tailstock
      ? [
          {
            code: 'jaws',
            severity: 'note',
            path: 'holding.tailstock',
            message: `the tailstock's point needs a tight plug in the tube's bore of ${two(bore)} mm; it is planned and proven as if it were solid`,
          },
        ]
      : [];
  const most = downTo(2 * (job.field.minRadius - WALL), 0.5);
  return [
    {
      code: 'blank-too-small',
      severity: 'refuse',
      path: 'blank.bore',
      message: `the thinnest place has a radius of ${two(job.field.minRadius)} mm, the stock's bore ${two(bore / 2)} mm: ${wall > 0 ? `a wall of only ${two(wall)} mm is left` : 'it breaks through'}`,
      allowed: `a wall of at least ${WALL} mm: a bore of at most ${Math.max(0, most)} mm, or a thicker form`,
      measure: { got: wall, bound: WALL, unit: 'mm' },
      changes: [
        ...(most >= 1 ? [change(`a tube with a bore of ${most} mm`, { path: 'blank.bore', value: most })] : []),
        change('solid stock', { path: 'blank.bore', value: null }, { path: 'holding.inside', value: null }),
      ],
    },
  ];
}

/** The blank's sizes enlarged so that the form just fits, rounded up to half a millimetre. */
function sizeText(blank: Blank, ratio: number): string {
  const grown = (size: number) => one(Math.ceil(size * ratio * 2 - 1e-9) / 2);
  if (blank.section === 'rectangle') return `a blank of at least ${grown(blank.width)} x ${grown(blank.height)} mm`;
  return `a ${blank.section} blank of at least ${grown(blank.width)} mm`;
}

const one = (value: number): string => String(Number(value.toFixed(1)));
const two = (value: number): string => String(Number(value.toFixed(2)));
