/** What is true at one moment of the cutting, and how it is said. */

import type { Finding } from '../../../shared/problems.ts';
import { SECONDS_PER_MINUTE, TURN } from '../../../shared/units.ts';
import { momentAt, type Reel } from '../../cam/proof/reel.ts';

export interface Readout {
  stage: string;
  file: string;
  line: number;
  bit: number;
  rapid: boolean;
  /** Speed of the tip over the work, mm/min. */
  feed: number;
  rpm: number;
  /** Speed of the rotary, turns/min. */
  turns: number;
  x: number;
  r: number;
  theta: number;
}

/** @param t s from the start of the job */
export function readoutAt(reel: Reel, t: number): Readout {
  const { motion: k, x, r, theta } = momentAt(reel, t);
  const minutes = (reel.start[k + 1]! - reel.start[k]!) / SECONDS_PER_MINUTE;
  const back = k > 0 && reel.files.every((f) => f.from !== k) ? k - 1 : k;
  const step = (column: Float64Array) => Math.abs(column[k]! - column[back]!) || 0;
  const turned = step(reel.theta);
  const way = Math.hypot(step(reel.x), step(reel.r), (Math.max(0, r) || 0) * turned);
  const stretch = reel.stretches[reel.stretch[k]!];
  return {
    stage: stretch?.stage ?? '',
    file: stretch?.file ?? '',
    line: reel.line[k]!,
    bit: reel.bit[k]!,
    rapid: reel.rapid[k] === 1,
    feed: minutes > 0 ? way / minutes : 0,
    rpm: reel.rpm[k]!,
    turns: minutes > 0 ? turned / TURN / minutes : 0,
    x,
    r,
    theta,
  };
}

/** @param s seconds @returns `36:40`, `1:02:05` */
export function clockText(s: number): string {
  const whole = Math.floor(s);
  const two = (n: number) => String(n).padStart(2, '0');
  const hours = Math.floor(whole / 3600);
  const minutes = Math.floor(whole / 60) % 60;
  return hours ? `${hours}:${two(minutes)}:${two(whole % 60)}` : `${minutes}:${two(whole % 60)}`;
}

/** @returns when the line of a finding is run, s; the end of its program where it names no line; undefined where it is not played */
export function timeOf(reel: Reel, finding: Pick<Finding, 'file' | 'line'>): number | undefined {
  const n = reel.files.findIndex((f) => f.file === finding.file);
  if (n < 0) return undefined;
  const end = reel.files[n + 1]?.from ?? reel.count;
  if (finding.line > 0)
    for (let k = reel.files[n]!.from; k < end; k++)
      if (reel.line[k]! >= finding.line) return (reel.start[k]! + reel.start[k + 1]!) / 2;
  return reel.start[end];
}
