/**
 * Straight bars of stepped section: how far they give under one load, how much moment and twist they carry.
 * Each cell between two edges has one bending stiffness, so every integral below is exact for a stepped bar.
 * Method: unit load (virtual work), δ = ∫ M·m/(EI) dx, with the redundant reaction of the fixed–pinned bar solved from
 * zero deflection at the pin; prefix sums of the moments of dx/(EI) give all load positions in O(n).
 */

/** How the two ends are held: at the first edge a chuck (fixed) or a point (pinned), at the last a point or nothing. */
export type Support = 'fixed-pinned' | 'pinned-pinned' | 'fixed-free';

export interface Bar {
  /** n + 1 ascending edges, mm. */
  readonly edges: Float64Array;
  /** n bending stiffnesses E·I of the cells, N·mm². */
  readonly EI: Float64Array;
}

/** Moments ∫w, ∫wx, ∫wx² of w = 1/(EI) from the first edge to each edge, x counted from the first edge. */
function prefix(bar: Bar) {
  const n = bar.EI.length;
  const [I0, I1, I2] = [new Float64Array(n + 1), new Float64Array(n + 1), new Float64Array(n + 1)];
  const start = bar.edges[0]!;
  for (let i = 0; i < n; i++) {
    const a = bar.edges[i]! - start;
    const b = bar.edges[i + 1]! - start;
    const w = 1 / bar.EI[i]!;
    I0[i + 1] = I0[i]! + w * (b - a);
    I1[i + 1] = I1[i]! + (w * (b * b - a * a)) / 2;
    I2[i + 1] = I2[i]! + (w * (b ** 3 - a ** 3)) / 3;
  }
  return { I0, I1, I2, L: bar.edges[n]! - start };
}

/**
 * Give of the bar where it is pushed, for a unit load at each edge.
 * @returns mm a newton, one for each edge
 */
export function compliance(bar: Bar, support: Support): Float64Array {
  const { I0, I1, I2, L } = prefix(bar);
  const n = bar.EI.length;
  /** ∫(L − x)²w over the whole bar. */
  const K = L * L * I0[n]! - 2 * L * I1[n]! + I2[n]!;
  return Float64Array.from(bar.edges, (edge, i) => {
    const s = edge - bar.edges[0]!;
    const Q = s * s * I0[i]! - 2 * s * I1[i]! + I2[i]!;
    if (support === 'fixed-free') return Q;
    if (support === 'fixed-pinned') {
      const P = s * L * I0[i]! - (s + L) * I1[i]! + I2[i]!;
      return Q - (P * P) / K;
    }
    const upTo = L * L * I0[i]! - 2 * L * I1[i]! + I2[i]!;
    return ((L - s) / L) ** 2 * I2[i]! + (s / L) ** 2 * (K - upTo);
  });
}

/** Moments at every edge under a unit load at edge k, N·mm a newton (sagging positive). */
export function moments(bar: Bar, support: Support, k: number): Float64Array {
  const { I0, I1, I2, L } = prefix(bar);
  const n = bar.EI.length;
  const s = bar.edges[k]! - bar.edges[0]!;
  let tail = 0;
  if (support === 'pinned-pinned') tail = s / L;
  if (support === 'fixed-pinned')
    tail = (s * L * I0[k]! - (s + L) * I1[k]! + I2[k]!) / (L * L * I0[n]! - 2 * L * I1[n]! + I2[n]!);
  return Float64Array.from(bar.edges, (edge) => {
    const x = edge - bar.edges[0]!;
    return tail * (L - x) - Math.max(0, s - x);
  });
}

/**
 * The largest of |M|·Z over all cells, for a unit load at each edge: with Z = c/I of each cell, the bar's worst bending stress.
 * O(n²) sums and no arrays in between, so that it can follow a slider.
 * @param Z n values, 1/mm³ @returns N/mm² a newton, one for each edge
 */
export function worstStress(bar: Bar, support: Support, Z: Float64Array): Float64Array {
  const { I0, I1, I2, L } = prefix(bar);
  const n = bar.EI.length;
  const at = Float64Array.from(bar.edges, (x) => x - bar.edges[0]!);
  const K = L * L * I0[n]! - 2 * L * I1[n]! + I2[n]!;
  return Float64Array.from(at, (s, k) => {
    let tail = 0;
    if (support === 'pinned-pinned') tail = s / L;
    if (support === 'fixed-pinned') tail = (s * L * I0[k]! - (s + L) * I1[k]! + I2[k]!) / K;
    let most = 0;
    let here = Math.abs(tail * L - s);
    for (let i = 0; i < n; i++) {
      const x = at[i + 1]!;
      const next = Math.abs(tail * (L - x) - (x < s ? s - x : 0));
      most = Math.max(most, Math.max(here, next) * Z[i]!);
      here = next;
    }
    return most;
  });
}

/** The bent line under a unit load at edge k: deflection at every edge, mm a newton, in the direction of the load. */
export function bentLine(bar: Bar, support: Support, k: number): Float64Array {
  const M = moments(bar, support, k);
  const n = bar.EI.length;
  const line = new Float64Array(n + 1);
  let slope = 0;
  for (let i = 0; i < n; i++) {
    const h = bar.edges[i + 1]! - bar.edges[i]!;
    const w = 1 / bar.EI[i]!;
    // M runs straight within a cell: integrate −M/(EI) twice, exactly.
    line[i + 1] = line[i]! + slope * h - w * h * h * (M[i]! / 3 + M[i + 1]! / 6);
    slope -= (w * h * (M[i]! + M[i + 1]!)) / 2;
  }
  if (support === 'pinned-pinned') {
    const end = line[n]!;
    const L = bar.edges[n]! - bar.edges[0]!;
    for (let i = 0; i <= n; i++) line[i] = line[i]! - (end * (bar.edges[i]! - bar.edges[0]!)) / L;
  }
  return line;
}

/** Masses that a bar's tone is reckoned with; more change it by less than a thousandth. */
const LUMPS = 40;

/**
 * The bar's lowest tone, by Rayleigh's quotient with the line it takes under its own weight: ω² = Σ m·y / Σ m·y². A uniform
 * bar has λ²/(2πL²)·√(EI/μ) with λ² = π² between points and 15.418 fixed and propped; the quotient lies less than 1 % above.
 * @param mass of a cell a length, n values, t/mm (kg/m³ × mm² × 10⁻¹²) @returns Hz
 */
export function lowestTone(bar: Bar, support: Support, mass: Float64Array): number {
  const n = mass.length;
  const line = new Float64Array(n + 1);
  const lumps = new Float64Array(n + 1);
  const group = Math.max(1, Math.ceil(n / LUMPS));
  for (let i = 0; i < n; i += group) {
    let sum = 0;
    for (let j = i; j < Math.min(n, i + group); j++) sum += mass[j]! * (bar.edges[j + 1]! - bar.edges[j]!);
    lumps[Math.min(n, i + Math.ceil(group / 2))] = sum;
  }
  for (let k = 0; k <= n; k++)
    if (lumps[k]! > 0) {
      const bent = bentLine(bar, support, k);
      for (let i = 0; i <= n; i++) line[i] = line[i]! + bent[i]! * lumps[k]!;
    }
  let work = 0;
  let swing = 0;
  for (let i = 0; i <= n; i++) {
    work += lumps[i]! * line[i]!;
    swing += lumps[i]! * line[i]! ** 2;
  }
  return Math.sqrt(work / swing) / (2 * Math.PI);
}

/**
 * Twist of each edge against the first for a torque put in at that edge: ∫dx/(GJ).
 * @param GJ torsional stiffness of the cells, N·mm² @returns radians a N·mm
 */
export function twist(edges: Float64Array, GJ: Float64Array): Float64Array {
  const out = new Float64Array(edges.length);
  for (let i = 0; i < GJ.length; i++) out[i + 1] = out[i]! + (edges[i + 1]! - edges[i]!) / GJ[i]!;
  return out;
}

/** Second moment of area of a round bar: πd⁴/64. @returns mm⁴ */
export const roundInertia = (diameter: number): number => (Math.PI * diameter ** 4) / 64;
/** Polar moment of a round bar: πd⁴/32. @returns mm⁴ */
export const roundPolar = (diameter: number): number => (Math.PI * diameter ** 4) / 32;
/** Bending stress of a round bar: 32M/(πd³). @param moment N·mm @returns N/mm² */
export const bendingStress = (moment: number, diameter: number): number => (32 * moment) / (Math.PI * diameter ** 3);
/** Shear stress of a twisted round bar or tube: T·(d/2)/J = 16Td/π(d⁴ − b⁴). @param torque N·mm @param bore b, mm @returns N/mm² */
export const torsionStress = (torque: number, diameter: number, bore = 0): number =>
  (16 * torque * diameter) / (Math.PI * (diameter ** 4 - bore ** 4));

/** What bending and twisting ask of a section. */
export interface SectionMoments {
  /** Smallest second moment of area over all directions, mm⁴. */
  readonly inertia: number;
  /** Radii, mm. */
  readonly smallest: number;
  readonly largest: number;
}

/** cos 2θ and sin 2θ at evenly spaced angles, worked out once for each number of them: sections are asked for by the hundred. */
const HARMONICS = new Map<number, { cos: Float64Array; sin: Float64Array }>();
function harmonics(n: number): { cos: Float64Array; sin: Float64Array } {
  const known = HARMONICS.get(n);
  if (known) return known;
  const at = (f: (angle: number) => number) => Float64Array.from({ length: n }, (_, j) => f((4 * Math.PI * j) / n));
  const made = { cos: at(Math.cos), sin: at(Math.sin) };
  HARMONICS.set(n, made);
  return made;
}

/**
 * Smallest second moment of area over all directions through the axis, and the extreme radii, of a section r(θ).
 * I(φ) = ¼∮r⁴sin²(θ − φ)dθ; the smallest follows from its two-θ harmonics. Periodic trapezoid sums: exact to rounding for a
 * smooth section, about 0.1 % for one with corners at 180 angles.
 * @param r radii at evenly spaced angles, mm; a single one of a round section
 */
export function sectionOf(r: Float64Array): SectionMoments {
  let sum = 0;
  let c = 0;
  let s = 0;
  let smallest = Infinity;
  let largest = 0;
  const step = (2 * Math.PI) / r.length;
  // One radius is a round section: it has no direction of its own.
  if (r.length === 1) return { inertia: (Math.PI * r[0]! ** 4) / 4, smallest: r[0]!, largest: r[0]! };
  const { cos, sin } = harmonics(r.length);
  for (let j = 0; j < r.length; j++) {
    const square = r[j]! * r[j]!;
    const q = square * square;
    sum += q;
    c += q * cos[j]!;
    s += q * sin[j]!;
    smallest = Math.min(smallest, r[j]!);
    largest = Math.max(largest, r[j]!);
  }
  return { inertia: ((sum - Math.hypot(c, s)) * step) / 8, smallest, largest };
}
