/** Formulas of cutting: speed, power, force. Textbook forms; the tests hold worked numbers with their sources. */
import { SECONDS_PER_MINUTE } from '../../shared/units.ts';

/** Spindle speed for a cutting speed: n = 1000·V/(πD). @param speed m/min @param diameter mm @returns rpm */
export const rpmFor = (speed: number, diameter: number): number => (1000 * speed) / (Math.PI * diameter);

/** Cutting speed of a bit's edge. @param rpm turns a minute @param diameter mm @returns m/min */
export const surfaceSpeed = (rpm: number, diameter: number): number => (Math.PI * diameter * rpm) / 1000;

/** Table feed. @param chip mm a tooth @returns mm/min */
export const feedFor = (rpm: number, teeth: number, chip: number): number => rpm * teeth * chip;

/** Removal rate of a straight cut. @param depth mm @param width mm @param feed_mm_min @returns mm³/s */
export const removalRate = (depth: number, width: number, feed_mm_min: number): number =>
  (depth * width * feed_mm_min) / SECONDS_PER_MINUTE;

/** Power at the edge. @param rate mm³/s @param force specific cutting force N/mm² (= 1000 × J/mm³) @returns W */
export const cuttingPower = (rate: number, force: number): number => (rate * force) / 1000;

/**
 * Largest force on one edge that cuts a chip of this section. @param force specific cutting force N/mm² @param depth mm
 * @param chip mm @returns N
 */
export const edgeForce = (force: number, depth: number, chip: number): number => force * depth * chip;

/** Diameter at which a ball cuts when it stands square to the surface: 2√(a(D − a)). @param depth a, mm @returns mm */
export const ballDiameterAt = (diameter: number, depth: number): number =>
  depth >= diameter / 2 ? diameter : 2 * Math.sqrt(depth * (diameter - depth));

/**
 * How much thinner than the feed per tooth the thickest chip of a light side cut is: 2√(w/D − (w/D)²) for w < D/2, else 1.
 * @param width w of the cut across the feed, mm
 */
export const chipThinning = (width: number, diameter: number): number =>
  width >= diameter / 2 ? 1 : 2 * Math.sqrt(width / diameter - (width / diameter) ** 2);

/**
 * Give of a round bar held at one end and pushed at the other: FL³/(3EI), I = πd⁴/64.
 * @param load N @param length mm @param diameter mm @param modulus N/mm² @returns mm
 */
export const cantileverGive = (load: number, length: number, diameter: number, modulus: number): number =>
  (load * length ** 3) / (3 * modulus * ((Math.PI * diameter ** 4) / 64));
