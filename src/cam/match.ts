/**
 * Caliper readings of a finished part → what was off when it was cut: the radial zero, the tailstock's height, the bit's diameter,
 * the head beside the centre. A model of what the bit leaves with those four off, fitted by least squares (Gauss–Newton with
 * differences; what cannot be told from noise, or from another, is left at nothing).
 *
 * Model: the program puts the tip at z*(x′), the contact height of the declared bit on the form. Truly the tip stood `zero`
 * lower, at x′ lower by a further `tail`·x′/length; the bit was thinner by `wear`; its axis stood `aside` from the centre plane.
 * The work turns under it, so at x it leaves the least distance from the axis of any point of the bit:
 *     r(x) = min over x′ and y of √( y² + (z*(x′) − zero − tail·x′/length + h(√((x − x′)² + (y − aside)²)))² ).
 * On sections that are not round it is taken along the angle of the reading: true for their high lines, where a caliper rests.
 */
import type { Bit } from '../../shared/catalog.ts';
import { profileHeight, profileOf } from './bit.ts';
import { contactFor } from './contact.ts';
import type { Job } from './job.ts';

export interface Reading {
  /** mm from the form's face at the chuck. */
  readonly x: number;
  /** mm across, as the caliper shows it. */
  readonly diameter: number;
  /** Angle that was up while it was measured, radians; left out, the thickest way across. */
  readonly theta?: number;
}

export type Cause = 'zero' | 'tail' | 'wear' | 'aside';

/** mm each; see the head of the file for their senses. */
export type Causes = Readonly<Record<Cause, number>>;

export interface MatchRow extends Reading {
  /** What the program should have left, what the causes found explain, and what stays unexplained, mm across. */
  readonly wanted: number;
  readonly explained: number;
  readonly residual: number;
  /** Whether it lies so far from all others that it was likely read or typed wrong. */
  readonly odd: boolean;
}

export interface Match {
  readonly causes: Causes;
  /** Standard error of each cause that was fitted, mm; those left out were not to be told from nothing. */
  readonly errors: Partial<Record<Cause, number>>;
  readonly rows: readonly MatchRow[];
  /** Root of the mean square of measured − wanted, and of what stays unexplained, mm across. */
  readonly before: number;
  readonly after: number;
}

/** In the order in which they are believed where two of them would explain the same. */
const CAUSES: readonly Cause[] = ['zero', 'tail', 'wear', 'aside'];
const NOTHING: Causes = { zero: 0, tail: 0, wear: 0, aside: 0 };
/** What a caliper and a hand can tell, mm (common practice, no source). */
const CALIPER = 0.02;
/** A cause smaller than so many of its standard errors counts as noise. */
const SURE = 2.5;
/** A reading further off than so many times the spread is odd. */
const ODD = 3.5;
/** Steps of the differences, mm; the square of `aside` is what counts, in mm². */
const STEP: Causes = { zero: 0.01, tail: 0.01, wear: 0.02, aside: 0.05 };
const ROUNDS = 6;
/** Places of the tip that are tried for a reading, on each side of it. */
const PLACES = 60;

/** The bit as worn: thinner, its tip where it was touched off. */
export function wornBit(bit: Bit, wear: number): Bit {
  const diameter = bit.diameter - wear;
  return { ...bit, diameter, ...(bit.kind === 'ball' ? { tipRadius: diameter / 2 } : {}) };
}

/** Predicts the diameters that a job leaves with causes at work. */
export class Leaver {
  private readonly heights = new Map<string, number>();
  private readonly contact: ReturnType<typeof contactFor>;
  private readonly job: Job;

  constructor(job: Job) {
    this.job = job;
    this.contact = contactFor(job.field, job.tools.finishing.bit);
  }

  /** @param reading where, and which way across @param c what is off @returns mm across */
  diameter(reading: Reading, c: Causes): number {
    const { theta } = reading;
    if (theta !== undefined) return this.radius(reading.x, theta, c) + this.radius(reading.x, theta + Math.PI, c);
    return 2 * this.radius(reading.x, this.thickest(reading.x), c);
  }

  /** Angle of the form's largest radius at x. */
  private thickest(x: number): number {
    const { field } = this.job;
    if (field.isRound(x, x)) return 0;
    const angles = [...field.creases(x), ...Array.from({ length: 180 }, (_, i) => (i * Math.PI) / 90)];
    return angles.reduce((best, t) => (field.radius(x, t) > field.radius(x, best) ? t : best), 0);
  }

  private lowest(x: number, theta: number): number {
    const key = `${x.toFixed(4)} ${theta}`;
    let z = this.heights.get(key);
    if (z === undefined) {
      z = this.contact.lowest(x, theta);
      this.heights.set(key, z);
    }
    return z;
  }

  private radius(x: number, theta: number, c: Causes): number {
    const { field, tools } = this.job;
    const declared = tools.finishing.bit;
    const profile = profileOf(wornBit(declared, c.wear));
    // The same places whatever the causes, so that their differences are differences of the causes alone.
    const reach = declared.diameter / 2;
    let least = Infinity;
    for (let k = -PLACES; k <= PLACES; k++) {
      const at = x + (reach * k) / PLACES;
      if (at < field.from || at > field.to) continue;
      const tip = this.lowest(at, theta) - c.zero - (c.tail * at) / field.length;
      least = Math.min(least, nearestToAxis(profile, tip, Math.abs(x - at), c.aside));
    }
    return least;
  }
}

/** Least distance from the axis of a bit's points at `u` from it along x, mm; Infinity where the bit does not reach. */
function nearestToAxis(profile: ReturnType<typeof profileOf>, tip: number, u: number, aside: number): number {
  const at = (y: number) => {
    const h = profileHeight(profile, Math.hypot(u, y - aside));
    return h === Infinity ? Infinity : Math.hypot(y, tip + h);
  };
  if (aside === 0) return at(0);
  // Between the centre plane and the bit's own axis: beyond either both terms grow. Halving by the golden section.
  const g = (Math.sqrt(5) - 1) / 2;
  let a = Math.max(0, aside - Math.sqrt(Math.max(0, profile.radius ** 2 - u * u)));
  let b = aside;
  for (let i = 0; i < 24; i++) {
    const p = b - g * (b - a);
    const q = a + g * (b - a);
    if (at(p) <= at(q)) b = q;
    else a = p;
  }
  return Math.min(at(a), at(b), at((a + b) / 2));
}

/**
 * Finds what was off.
 * @param job as it was cut @param readings at least two, on the form @throws RangeError for fewer
 */
export function matchReadings(job: Job, readings: readonly Reading[]): Match {
  if (readings.length < 2) throw new RangeError(`at least two readings are needed, got ${readings.length}`);
  const leaver = new Leaver(job);
  const wanted = readings.map((r) => leaver.diameter(r, NOTHING));
  const odd = readings.map(() => false);
  let fit = fitted(leaver, readings, odd);
  // A mistyped reading would pull all the others along: put the worst aside once, and look again.
  const rest = readings.map((r, i) => r.diameter - wanted[i]! - fit.explained[i]!);
  const worst = rest.reduce((w, r, i) => (Math.abs(r) > Math.abs(rest[w]!) ? i : w), 0);
  const others = readings.map((_, i) => i === worst);
  if (readings.length > 5) {
    const without = fitted(leaver, readings, others);
    const off = readings[worst]!.diameter - wanted[worst]! - without.explained[worst]!;
    if (Math.abs(off) > ODD * Math.max(CALIPER, without.spread)) {
      fit = without;
      odd[worst] = true;
    }
  }
  const rows = readings.map((r, i): MatchRow => {
    const explained = fit.explained[i]!;
    return { ...r, wanted: wanted[i]!, explained, residual: r.diameter - wanted[i]! - explained, odd: odd[i]! };
  });
  return {
    causes: fit.causes,
    errors: fit.errors,
    rows,
    before: rms(rows.map((r) => r.diameter - r.wanted)),
    after: rms(rows.map((r) => r.residual)),
  };
}

const rms = (list: readonly number[]): number => Math.sqrt(list.reduce((s, v) => s + v * v, 0) / list.length);

interface Fit {
  readonly causes: Causes;
  readonly errors: Partial<Record<Cause, number>>;
  /** Mm across, of every reading. */
  readonly explained: number[];
  /** Standard deviation of what stays, mm. */
  readonly spread: number;
}

/** Fits as many causes as the readings can tell apart. */
function fitted(leaver: Leaver, readings: readonly Reading[], aside: readonly boolean[]): Fit {
  const used = readings.filter((_, i) => !aside[i]);
  let names = CAUSES.slice(0, used.length - 1);
  for (;;) {
    const solved = solve(leaver, used, names);
    if ('same' in solved) {
      names = names.filter((n) => n !== solved.same);
      continue;
    }
    const { causes, errors, spread } = solved;
    const doubt = (n: Cause) => (n === 'aside' ? causes.aside ** 2 : Math.abs(causes[n])) / errors[n]!;
    const least = names.reduce<Cause | undefined>((w, n) => (w && doubt(w) < doubt(n) ? w : n), undefined);
    if (least === undefined || doubt(least) >= SURE) {
      const explained = readings.map((r) => leaver.diameter(r, causes) - leaver.diameter(r, NOTHING));
      // The error of `aside` was that of its square.
      const told = errors.aside === undefined ? errors : { ...errors, aside: errors.aside / (2 * causes.aside) };
      return { causes, errors: told, explained, spread };
    }
    names = names.filter((n) => n !== least);
  }
}

/** Causes, their standard errors and the standard deviation of what stays, or a cause that others explain as well. */
type Solved = Omit<Fit, 'explained'> | { readonly same: Cause };

/** Gauss–Newton over some causes. `aside` is worked on as its square, in which the diameters are nearly straight. */
function solve(leaver: Leaver, readings: readonly Reading[], names: readonly Cause[]): Solved {
  let p = names.map(() => 0);
  const toCauses = (v: readonly number[]): Causes => {
    const c = { ...NOTHING } as Record<Cause, number>;
    for (const [k, n] of names.entries()) c[n] = n === 'aside' ? Math.sqrt(Math.max(0, v[k]!)) : v[k]!;
    return c;
  };
  let inverse: number[][] = [];
  let left: number[] = [];
  for (let round = 0; round < (names.length ? ROUNDS : 1); round++) {
    const now = readings.map((r) => leaver.diameter(r, toCauses(p)));
    left = readings.map((r, i) => r.diameter - now[i]!);
    const columns = names.map((n, k) => {
      const moved = p.map((v, j) => (j === k ? v + STEP[n] : v));
      return readings.map((r, i) => (leaver.diameter(r, toCauses(moved)) - now[i]!) / STEP[n]);
    });
    const product = columns.map((a) => columns.map((b) => a.reduce((s, v, i) => s + v * b[i]!, 0)));
    const inverted = invert(product);
    if (typeof inverted === 'number') return { same: names[inverted]! };
    inverse = inverted;
    const pull = columns.map((a) => a.reduce((s, v, i) => s + v * left[i]!, 0));
    p = p.map((v, k) => v + inverse[k]!.reduce((s, m, j) => s + m * pull[j]!, 0));
    p = p.map((v, k) => (names[k] === 'aside' ? Math.max(0, v) : v));
  }
  const causes = toCauses(p);
  left = readings.map((r) => r.diameter - leaver.diameter(r, causes));
  const free = Math.max(1, readings.length - names.length);
  const spread = Math.max(CALIPER / 2, Math.sqrt(left.reduce((s, v) => s + v * v, 0) / free));
  const errors: Partial<Record<Cause, number>> = {};
  for (const [k, n] of names.entries()) errors[n] = spread * Math.sqrt(inverse[k]![k]!);
  return { causes, errors, spread };
}

/** Share of a column that must not be explained by the others for both to be told apart. */
const APART = 1e-4;

/** Inverse of a symmetric positive matrix, by elimination; or the first column that says what those before it say. */
function invert(matrix: readonly (readonly number[])[]): number[][] | number {
  const n = matrix.length;
  const rows = matrix.map((r, i) => [...r, ...r.map((_, j) => (i === j ? 1 : 0))]);
  for (let i = 0; i < n; i++) {
    const pivot = rows[i]![i]!;
    if (!(pivot > APART * matrix[i]![i]!)) return i;
    rows[i] = rows[i]!.map((v) => v / pivot);
    for (let k = 0; k < n; k++)
      if (k !== i) {
        const f = rows[k]![i]!;
        rows[k] = rows[k]!.map((v, j) => v - f * rows[i]![j]!);
      }
  }
  return rows.map((r) => r.slice(n));
}
