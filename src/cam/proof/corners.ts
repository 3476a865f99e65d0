/** Whether the corners of the blank are off wherever the part is turned. */
import { CORNER_FACET, REST_AREA } from '../../../shared/tolerances.ts';
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

/**
 * Corners still standing on the rows: patches of wood beyond the inscribed circle, larger than a sliver.
 * @returns height beyond the inscribed circle and place of the highest, mm, and the standing area, mm²; nothing if they are off
 */
export function cornerLeft(
  job: ProofJob,
  wood: Wood,
  rows: readonly number[],
): { height: number; x: number; theta: number; area: number } | undefined {
  const { grid, outer } = wood;
  const m = grid.columns;
  const limit = inscribed(job.blank) + CORNER_FACET;
  const standing = new Set<number>();
  for (const i of rows) for (let k = i * m; k < (i + 1) * m; k++) if (outer[k]! > limit) standing.add(k);
  let best: { height: number; x: number; theta: number; area: number } | undefined;
  for (const start of standing) {
    standing.delete(start);
    const patch = [start];
    let area = 0;
    let top = start;
    for (let k = patch.pop(); k !== undefined; k = patch.pop()) {
      area += (grid.width[Math.floor(k / m)]! * outer[k]! * TURN) / m;
      if (outer[k]! > outer[top]!) top = k;
      const row = k - (k % m);
      for (const next of [k - m, k + m, row + ((k + 1) % m), row + ((k + m - 1) % m)])
        if (standing.delete(next)) patch.push(next);
    }
    if (area <= REST_AREA || area <= (best?.area ?? 0)) continue;
    best = {
      height: outer[top]! - inscribed(job.blank),
      x: grid.xs[Math.floor(top / m)]!,
      theta: ((top % m) * TURN) / m,
      area,
    };
  }
  return best;
}
