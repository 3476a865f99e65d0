/** `--stock`: the lengths on the rack as a person writes them, and what a line cut from them says. */
import { InvalidArgumentError } from 'commander';
import type { LineSticks, RackLength } from '../batch/stick-line.ts';

const LONGEST = 20_000;
const MOST_PIECES = 200;

/** Adds one length, such as `900` or `1200x4` for four of them. @param before those given before it */
export function stockOf(text: string, before: readonly RackLength[] = []): RackLength[] {
  const match = /^(\d+(?:\.\d+)?)(?:x(\d+))?$/.exec(text);
  const length = Number(match?.[1]);
  const quantity = match?.[2] === undefined ? undefined : Number(match[2]);
  if (!match || !(length > 0 && length <= LONGEST) || quantity === 0)
    throw new InvalidArgumentError(
      `stock is a length in mm up to ${LONGEST}, such as 900, or 1200x4 for four of them.`,
    );
  return [...before, { name: `${length} mm`, length, quantity }];
}

/** @returns pieces on one stick at the most */
export function mostOf(text: string): number {
  const count = Number(text);
  if (!/^\d+$/.test(text) || count < 1 || count > MOST_PIECES)
    throw new InvalidArgumentError(`pieces on a stick are a whole number from 1 to ${MOST_PIECES}.`);
  return count;
}

/** What was nested, a line for each kind of blank. */
export const stickLines = ({ groups, sticks }: LineSticks): string[] =>
  groups.map((g) => {
    const share = g.bound > 0 ? 100 * (g.stockLength / g.bound - 1) : 0;
    const least = g.optimal ? 'the least there is' : `within ${share.toFixed(1)} % of the least there could be`;
    return `sticks    ${g.blank}: ${metres(g.stockLength)} m of stock for ${metres(g.pieceLength)} m of pieces, ${least}; ${sticks.length} kinds of stick in all`;
  });

const metres = (mm: number): string => (mm / 1000).toFixed(2);

/** What found no place, a line each. */
export const leftLines = ({ left }: LineSticks): string[] =>
  left.map((l) => `${l.slug}: ${l.quantity} not on a stick: ${l.problem.message} (${l.problem.allowed ?? ''})`);
