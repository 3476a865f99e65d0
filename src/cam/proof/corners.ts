/** Whether the corners of the blank are off wherever the part is turned. */
import { CORNER_FACET } from '../../../shared/tolerances.ts';
import { TURN } from '../../../shared/units.ts';
import { FORM } from './grid.ts';
import { inscribed } from './stock.ts';
import type { ProofJob } from './verdict.ts';
import type { Wood } from './wood.ts';

/** Rows on which nothing may stand beyond the inscribed circle: turned, and a bit's width away from what stays higher. */
export function turnedRows(job: ProofJob, wood: Wood): number[] {
  if (job.blank.section === 'round') return [];
  const { grid } = wood;
  const inner = inscribed(job.blank);
  const reach = Math.max(...job.programs.map((p) => p.bit.diameter), 0) + 1;
  const high: number[] = [];
  for (let i = 0; i < grid.xs.length; i++)
    if (grid.region[i] === FORM && grid.partTop[i]! > inner) high.push(grid.xs[i]!);
  const rows: number[] = [];
  let h = 0;
  for (let i = 0; i < grid.xs.length; i++) {
    if (grid.region[i] !== FORM) continue;
    const x = grid.xs[i]!;
    while (h < high.length && high[h]! < x - reach) h++;
    if (h === high.length || high[h]! > x + reach) rows.push(i);
  }
  return rows;
}

/** The highest corner still standing on the rows. @returns mm beyond the inscribed circle, or nothing if they are off */
export function cornerLeft(
  job: ProofJob,
  wood: Wood,
  rows: readonly number[],
): { height: number; x: number; theta: number; share: number } | undefined {
  const { grid, outer } = wood;
  const m = grid.columns;
  const limit = inscribed(job.blank) + CORNER_FACET;
  let height = 0;
  let at = -1;
  let count = 0;
  for (const i of rows)
    for (let k = i * m; k < (i + 1) * m; k++)
      if (outer[k]! > limit) {
        count++;
        if (outer[k]! > height) {
          height = outer[k]!;
          at = k;
        }
      }
  return at < 0
    ? undefined
    : {
        height: height - inscribed(job.blank),
        x: grid.xs[Math.floor(at / m)]!,
        theta: ((at % m) * TURN) / m,
        share: count / (rows.length * m),
      };
}
