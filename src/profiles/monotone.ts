/**
 * A smooth curve through given points that never overshoots: piecewise cubics whose slopes are weighted harmonic means of
 * the neighbouring chords' (after "Monotone piecewise cubic interpolation" and "A method for constructing local monotone
 * piecewise cubic interpolants", both from memory): zero where the chords change sign, so every hill and dale is a given point.
 */

/**
 * @param xs ascending, at least two @param ys as many @returns the curve over [xs[0], xs.at(-1)]; passes through every point
 */
export function monotoneCurve(xs: readonly number[], ys: readonly number[]): (x: number) => number {
  const n = xs.length;
  const h = (i: number) => xs[i + 1]! - xs[i]!;
  const chord = (i: number) => (ys[i + 1]! - ys[i]!) / h(i);
  const slopes = xs.map((_, i) => {
    if (n === 2) return chord(0);
    if (i === 0) return endSlope(h(0), h(1), chord(0), chord(1));
    if (i === n - 1) return endSlope(h(n - 2), h(n - 3), chord(n - 2), chord(n - 3));
    const [a, b] = [chord(i - 1), chord(i)];
    if (a * b <= 0) return 0;
    const w1 = 2 * h(i) + h(i - 1);
    const w2 = h(i) + 2 * h(i - 1);
    return (w1 + w2) / (w1 / a + w2 / b);
  });
  return (x) => {
    let low = 0;
    let high = n - 1;
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if (xs[middle]! <= x) low = middle;
      else high = middle;
    }
    const t = (x - xs[low]!) / h(low);
    const s = 1 - t;
    return (
      s * s * (ys[low]! * (1 + 2 * t) + slopes[low]! * h(low) * t) +
      t * t * (ys[high]! * (1 + 2 * s) - slopes[high]! * h(low) * s)
    );
  };
}

/** One-sided three-point slope, held to the range in which the first piece only rises or only falls. */
function endSlope(h0: number, h1: number, c0: number, c1: number): number {
  const slope = ((2 * h0 + h1) * c0 - h0 * c1) / (h0 + h1);
  if (slope * c0 <= 0) return 0;
  return Math.abs(slope) > 3 * Math.abs(c0) ? 3 * c0 : slope;
}
