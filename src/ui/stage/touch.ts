/** Where a bit comes to stand on the part, quickly enough for every move of a pointer. */
import type { Bit } from '../../../shared/catalog.ts';
import { heightAt } from '../../cam/bit.ts';
import type { Surface } from '../../profiles/field.ts';

/** Looks across the bit in each direction; for the eye, not for cutting. */
const ALONG = 10;
const ACROSS = 8;

/**
 * Height of the tip when the bit stands on the surface: the highest of (surface − profile) under it.
 * @param x place of the bit, mm @param theta angle that faces it @returns mm above the axis; within a pixel or so of the exact answer
 */
export function touchHeight(surface: Surface, bit: Bit, x: number, theta: number): number {
  const r = bit.diameter / 2;
  let best = 0;
  for (let i = -ALONG; i <= ALONG; i++) {
    // Beside an end it is the rim of the end that is touched.
    const at = Math.min(surface.to, Math.max(surface.from, x + (r * i) / ALONG));
    const u = at - x;
    if (Math.abs(u) > r) continue;
    const reach = Math.asin(Math.min(1, r / Math.max(r, surface.radius(at, theta))));
    for (let j = -ACROSS; j <= ACROSS; j++) {
      const delta = (reach * j) / ACROSS;
      const radius = surface.radius(at, theta + delta);
      const d = Math.hypot(u, radius * Math.sin(delta));
      if (d <= r) best = Math.max(best, radius * Math.cos(delta) - heightAt(bit, d));
    }
  }
  return best;
}
