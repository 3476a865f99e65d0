/**
 * The contract of a part's surface: a radius over (x, θ). Everything that cuts, builds or proves asks this and
 * nothing else of the design. Frame of DESIGN §3: x in mm from the chuck-end face, θ in radians, right-handed about +x,
 * θ = 0 at the top when the rotary stands at zero. A point of the surface is (x, −r·sin θ, r·cos θ).
 */

/** Which limit to take at a shoulder: −1 from smaller x, +1 from larger x, 0 the larger of the two. */
export type Side = -1 | 0 | 1;

/** A place along x where the outline is not smooth. Samplers put rings there; at a shoulder two. */
export interface Break {
  x: number;
  /** shoulder: r jumps; crease: its slope jumps; edge: a carving starts or ends (r continuous, smoothness not promised). */
  kind: 'shoulder' | 'crease' | 'edge';
}

/** A line along the bottom of a groove or flute: what a small bit follows. */
export interface Guide {
  kind: 'groove' | 'flute';
  label: string;
  /** Points along the line, stride 2: x (mm), θ (radians, unwrapped). */
  line: Float64Array;
  /** Width of the feature across the line at the surface, mm. */
  width: number;
  /** Depth below the surrounding surface, mm. */
  depth: number;
  /** Radius of a rounded bottom, 0 for a vee or a flat. */
  bottomRadius: number;
}

/** A radial hole to be drilled, not part of r(x, θ). */
export interface Hole {
  x: number;
  theta: number;
  diameter: number;
  /** From the surface at its centre, mm. */
  depth: number;
}

/** A radius over (x, θ) on [from, to]: a form, or a form with the stubs and blank ends that are left beside it. */
export interface Surface {
  /** Ends along x, mm. Outside them every function answers for the nearer end, but there is no material there. */
  readonly from: number;
  readonly to: number;
  /** Smallest and largest radius anywhere, mm (bounds: never inside the true range). */
  readonly minRadius: number;
  readonly maxRadius: number;
  /** r(x, θ + 2π/symmetry) = r(x, θ) everywhere; Infinity for a pure turning. */
  readonly symmetry: number;
  /** Ascending in x, both ends left out. */
  readonly breaks: readonly Break[];
  /**
   * The radius, exact. @param x mm @param theta radians, any turn @param side limit taken at a shoulder, default 0
   * @returns mm, finite and > 0
   */
  radius(x: number, theta: number, side?: Side): number;
  /**
   * Many radii on one ring, the same numbers as `radius` gives.
   * @param thetas radians @param out filled with mm, same length
   */
  ring(x: number, thetas: Float64Array, out: Float64Array, side?: Side): void;
  /** Bounds of r over [x0, x1] and all θ. @returns [smallest, largest], enclosing, nearly tight */
  bounds(x0: number, x1: number): [number, number];
  /** Whether r depends on x alone over the whole of [x0, x1]. */
  isRound(x0: number, x1: number): boolean;
  /** Angles at which the section at x has an arris or another crease, radians in [0, 2π), ascending; empty if none. */
  creases(x: number, side?: Side): number[];
  /**
   * Whether a part of a screw stands over the whole of [x0, x1]: every section is any other one turned by what `turning`
   * grows between them, and that grows evenly. Left out: nothing is known to be one.
   */
  isScrew?(x0: number, x1: number): boolean;
  /** How far the angular features are turned at x, radians, continuous in x: meshes turn their columns with it. */
  turning(x: number): number;
}

/** The form of a part: from = 0, to = length. */
export interface Field extends Surface {
  /** Length of the form, mm. */
  readonly length: number;
  readonly guides: readonly Guide[];
  readonly holes: readonly Hole[];
  /** Ranges (ascending) in which the blank's own section is left standing: pommels. */
  readonly kept: readonly { from: number; to: number }[];
}
