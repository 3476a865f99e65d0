/** Guides: finely sampled lines along the bottom of a groove or flute. */
import { radians } from '../../shared/units.ts';

const LARGEST_STEP = 1;
const LARGEST_TURN = radians(1);

/**
 * Samples a line of the surface so finely that no step passes 1 mm along x or 1° around.
 * @param turning angle of the line at x, radians, unwrapped @returns stride 2: x mm, θ radians
 */
export function guideLine(from: number, to: number, turning: (x: number) => number): Float64Array {
  let steps = Math.max(1, Math.ceil((to - from) / LARGEST_STEP));
  for (;;) {
    const line = new Float64Array(2 * (steps + 1));
    let widest = 0;
    for (let i = 0; i <= steps; i++) {
      const x = i === steps ? to : from + ((to - from) * i) / steps;
      line[2 * i] = x;
      line[2 * i + 1] = turning(x);
      if (i) widest = Math.max(widest, Math.abs(line[2 * i + 1]! - line[2 * i - 1]!));
    }
    if (widest <= LARGEST_TURN) return line;
    steps = Math.ceil((steps * widest * 1.0001) / LARGEST_TURN);
  }
}
