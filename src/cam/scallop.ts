/**
 * Ridges that neighbouring passes leave between them, and how far apart the passes may lie for a wanted ridge.
 *
 * The closed forms are plane geometry of two circles of the tip's radius whose centres lie on the parallel curve of the
 * surface; for small ridges they become the path-interval rules of the literature, √(8hR), √(8hRρ/(R+ρ)), √(8hRρ/(ρ−R))
 * (Lin & Koren 1996, quoted from memory). For every other end of a bit the ridge is the crossing of two silhouettes: a
 * full turn of the work sweeps exactly the bit's outline z = tip + h(|u|) in the half plane of axis and radius.
 */

/**
 * Height of the ridge between two passes of a round tip.
 * @param tip radius of the ball or corner, mm > 0 @param spacing distance of the passes along the surface, mm ≥ 0
 * @param curvature of the surface in the plane of the two passes, 1/mm: > 0 convex (bead), < 0 concave (cove), 0 flat,
 *   cone or cylinder along the axis
 * @returns mm ≥ 0; Infinity where the passes lie so far apart that their circles do not meet; 0 in a cove that the tip
 *   does not fit into (it stands on the lips whatever the spacing)
 */
export function scallopHeight(tip: number, spacing: number, curvature = 0): number {
  if (curvature < 0 && -1 / curvature <= tip) return 0;
  const half = spacing / 2;
  if (curvature === 0) return half > tip ? Infinity : tip - Math.sqrt(tip * tip - half * half);
  const rho = 1 / curvature;
  // Signed ρ serves both: centres at ρ + R from the centre of curvature, the ridge at ρ + h.
  const centre = rho + tip;
  const angle = half * curvature;
  const across = centre * Math.sin(angle);
  if (Math.abs(across) > tip || Math.abs(angle) > Math.PI / 2) return Infinity;
  // (ρ+R)·cos(δ/2) − ρ − √(R² − …), written so that nothing cancels when ρ is large.
  const sagitta = 2 * centre * Math.sin(angle / 2) ** 2;
  return tip - Math.sqrt(tip * tip - across * across) - sagitta;
}

/**
 * Distance between passes of a round tip that leaves a ridge of the wanted height: the inverse of `scallopHeight`.
 * @param tip radius of the ball or corner, mm > 0 @param height wanted ridge, mm ≥ 0 @param curvature as in `scallopHeight`
 * @returns mm along the surface; the largest at which the circles still meet if `height` is beyond that; Infinity in a
 *   cove that the tip does not fit into
 */
export function scallopSpacing(tip: number, height: number, curvature = 0): number {
  if (curvature < 0 && -1 / curvature <= tip) return Infinity;
  if (curvature === 0) return height >= tip ? 2 * tip : 2 * Math.sqrt(2 * tip * height - height * height);
  const rho = 1 / curvature;
  const centre = rho + tip;
  // Law of cosines in the triangle centre of curvature – centre of the tip – ridge: 2·sin²(δ/4) = (R² − (R − h)²) / (2·(ρ+R)·(ρ+h)).
  const h = Math.min(height, tip);
  const share = (2 * tip * h - h * h) / (2 * centre * (rho + h));
  const widest = 2 * Math.asin(Math.min(1, tip / Math.abs(centre)));
  const angle = share >= 2 ? Math.PI : 2 * Math.asin(Math.sqrt(share / 2));
  return Math.abs(rho) * Math.min(2 * angle, curvature > 0 ? widest : Math.PI);
}

/**
 * Where the outlines of one bit in two places cross: the highest point that both leave between them.
 * The outline is convex, so the difference of the two never falls along x and one bisection settles it.
 * @param lower the bit's lower profile, distance from its axis (mm) → height above the tip (mm) @param R the bit's radius, mm
 * @param near tip height of the pass at x = 0, mm @param far tip height of the pass at x = spacing, mm
 * @param spacing distance of the passes along x, 0 < spacing, mm
 * @returns x of the crossing and its height, mm; height Infinity if the passes are more than a diameter apart
 */
export function crossing(
  lower: (d: number) => number,
  R: number,
  near: number,
  far: number,
  spacing: number,
): { x: number; height: number } {
  if (spacing >= 2 * R) return { x: spacing / 2, height: Infinity };
  const first = (x: number) => near + lower(Math.min(R, Math.abs(x)));
  const second = (x: number) => far + lower(Math.min(R, Math.abs(x - spacing)));
  let a = spacing - R;
  let b = R;
  // Beyond the overlap only one of the two is there: the wood stands up to it right to the other's rim.
  if (first(a) >= second(a)) return { x: a, height: first(a) };
  if (second(b) >= first(b)) return { x: b, height: second(b) };
  for (let i = 0; i < 40 && b - a > 1e-7; i++) {
    const m = (a + b) / 2;
    if (first(m) <= second(m)) a = m;
    else b = m;
  }
  return { x: (a + b) / 2, height: Math.max(first(a), second(b)) };
}
