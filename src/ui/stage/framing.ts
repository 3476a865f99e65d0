/** Where on the stage a millimetre lies: x by the shared ruler, upward to the same scale from the axis. */
import type { Ruler } from '../ruler.ts';

export interface Framing {
  readonly perPixel: number;
  /** Place of the rotary axis, CSS px from the upper edge. */
  readonly axisY: number;
  /** Visible heights above the axis, mm. */
  readonly top: number;
  readonly bottom: number;
}

/** Share of the height that the axis is given when the work is small. */
const AXIS_SHARE = 0.6;
/** Share of the height kept free above the work, for the bit. */
const ROOM_SHARE = 0.3;

/**
 * @param ruler shared @param height CSS px @param radius of what turns, mm
 * @returns the frame; where the work is too large for the height its upper skin, where the bit stands, stays in view
 */
export function frame(ruler: Ruler, height: number, radius: number): Framing {
  const perPixel = (ruler.to - ruler.from) / Math.max(1, ruler.width);
  const axisY = Math.max(AXIS_SHARE * height, ROOM_SHARE * height + radius / perPixel);
  return { perPixel, axisY, top: axisY * perPixel, bottom: (axisY - height) * perPixel };
}

/** @param z mm above the axis @returns CSS px from the upper edge */
export const heightToPixel = (f: Framing, z: number): number => f.axisY - z / f.perPixel;

/**
 * Height that shows the whole work with room for the bit above.
 * @param ruler shared @param radius of what turns, mm @param least @param most CSS px @returns CSS px
 */
export function wantedHeight(ruler: Ruler, radius: number, least: number, most: number): number {
  const perPixel = (ruler.to - ruler.from) / Math.max(1, ruler.width);
  const around = (2.4 * radius) / perPixel;
  return Math.round(Math.min(most, Math.max(least, around / (1 - ROOM_SHARE))));
}
