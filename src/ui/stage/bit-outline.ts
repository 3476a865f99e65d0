/** A bit in its holder as half outlines about its own axis, the tip at the origin. */
import type { Bit } from '../../../shared/catalog.ts';
import { heightAt } from '../../cam/bit.ts';

/** Pairs [radius, height], mm, from the axis outward and up to the axis again. */
export type HalfOutline = [number, number][];

/** Points on the curved end. */
const END_POINTS = 24;

/** @returns what cuts, what carries it, and the holder */
export function bitOutlines(bit: Bit): { end: HalfOutline; shank: HalfOutline; holder: HalfOutline } {
  const r = bit.diameter / 2;
  const end: HalfOutline = [];
  for (let k = 0; k <= END_POINTS; k++) {
    const d = r * Math.sin((Math.PI / 2) * (k / END_POINTS));
    end.push([d, heightAt(bit, Math.min(d, r - 1e-9))]);
  }
  const flutes = Math.max(bit.fluteLength, end.at(-1)![1]);
  end.push([r, flutes], [0, flutes]);
  const neck = Math.min(Math.max(flutes, bit.reach), bit.stickOut);
  const shank: HalfOutline = [
    [0, flutes],
    [0.94 * r, flutes],
    [0.94 * r, neck],
    [bit.shank / 2, Math.min(bit.stickOut, neck + Math.abs(bit.shank / 2 - r))],
    [bit.shank / 2, bit.stickOut],
    [0, bit.stickOut],
  ];
  const h = bit.holder / 2;
  const top = bit.stickOut + bit.holderLength;
  const bevel = Math.min(0.25 * bit.holderLength, 0.35 * h);
  const holder: HalfOutline = [
    [0, bit.stickOut],
    [h - bevel, bit.stickOut],
    [h, bit.stickOut + bevel],
    [h, top],
    [0, top],
  ];
  return { end, shank, holder };
}
