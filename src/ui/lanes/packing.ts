/** Puts bars that overlap along x into rows under one another. Pure. */

/** @param bars with their ends @param gap least distance in a row, in the same unit @returns the row of each, counted from 0 */
export function rowsOf(bars: readonly { from: number; to: number }[], gap: number): number[] {
  const ends: number[] = [];
  return bars.map(({ from, to }) => {
    const free = ends.findIndex((end) => from >= end + gap);
    const row = free < 0 ? ends.length : free;
    ends[row] = to;
    return row;
  });
}
