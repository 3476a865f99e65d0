/** Where the words about the bit find room. Pure. */

/** Width of a letter of these words on the average, px. */
const LETTER = 7.4;
const AIR = 10;

/**
 * Where the words about the bit stand: beside it in one line, else in two, on the side that has room.
 * @param px of the bit @param wide half its holder, px @param words in their order @param width of the stage, px
 */
export function besideBit(
  px: number,
  wide: number,
  words: readonly string[],
  width: number,
): { x: number; end: boolean; lines: readonly string[] } {
  const long = (lines: readonly string[]) => LETTER * Math.max(...lines.map((l) => l.length));
  const gap = wide + AIR;
  for (const lines of [[words.join(' · ')], words]) {
    if (px + gap + long(lines) <= width) return { x: px + gap, end: false, lines };
    if (px - gap - long(lines) >= 0) return { x: px - gap, end: true, lines };
  }
  // No room on either side: over the bit, but whole.
  return { x: Math.max(0, Math.min(px + gap, width - long(words))), end: false, lines: words };
}
