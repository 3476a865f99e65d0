/** Finds the name that a misspelt one was meant to be. */

/** At most this share of a word may be wrong for it to be a slip of another. */
const NEAR = 0.4;

/** Edits (insert, delete, replace, swap of neighbours) between two words; optimal string alignment. */
function edits(a: string, b: string): number {
  let older: number[] = [];
  let row = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++) {
      const same = a[i - 1] === b[j - 1] ? 0 : 1;
      let least = Math.min(row[j]! + 1, next[j - 1]! + 1, row[j - 1]! + same);
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) least = Math.min(least, older[j - 2]! + 1);
      next.push(least);
    }
    older = row;
    row = next;
  }
  return row[b.length]!;
}

/**
 * The known name nearest to a wrong one.
 * @param wrong what was written @param known the names that exist @returns the nearest, or undefined if none is near
 */
export function nearest(wrong: string, known: readonly string[]): string | undefined {
  let best: string | undefined;
  let least = Math.floor(wrong.length * NEAR) + 1;
  for (const name of known) {
    const n = edits(wrong.toLowerCase(), name.toLowerCase());
    if (n < least) {
      least = n;
      best = name;
    }
  }
  return best;
}

/** More than this many suggestions are no help. */
const MOST = 4;

/**
 * The known names that a wrong one may have meant: those that have all its words in them (`oak`: white-oak, red-oak),
 * else the nearest, else those that have most of its words (`english oak`).
 * @param wrong what was written @param known the names that exist, words in them set apart by hyphens @returns at most four, none if none is near
 */
export function likely(wrong: string, known: readonly string[]): string[] {
  const words = (name: string) => name.toLowerCase().split(/[^\p{L}\p{N}]+/u);
  const wanted = words(wrong).filter((w) => w.length > 1);
  const shares = known.map((name) => {
    const own = words(name);
    return wanted.filter((w) => own.includes(w)).length;
  });
  const sharing = (n: number) => (n ? known.filter((_, i) => shares[i] === n) : []);
  const few = (names: string[]) => names.length > 0 && names.length <= MOST;
  const whole = sharing(wanted.length);
  if (few(whole)) return whole;
  const one = nearest(wrong, known);
  if (one !== undefined) return [one];
  const most = sharing(Math.max(0, ...shares));
  return few(most) ? most : [];
}

/** The question that a wrong name is answered with. @param meant at least one name */
export const didYouMean = (meant: readonly string[]): string =>
  `did you mean ${meant.map((name) => `"${name}"`).join(' or ')}?`;
