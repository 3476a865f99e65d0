/** Where the words of a bar stand: in it if they fit, else beside it, else over its end. Pure; all in px of the lane. */

/** Bold small type, a letter on the average and rather more. */
const LETTER = 7.3;
const PAD = 10;

export interface BarWords {
  /** Where they begin, or end if `end` is the anchor. */
  x: number;
  anchor: 'start' | 'end';
  inside: boolean;
  /** Bar and words together. */
  from: number;
  to: number;
}

/** @param x0, x1 ends of the bar @param width of the lane */
export function barWords(x0: number, x1: number, words: string, width: number): BarWords {
  const wide = words.length * LETTER + PAD;
  const left = Math.max(0, x0);
  const inside: BarWords = { x: left + PAD, anchor: 'start', inside: true, from: x0, to: x1 };
  if (Math.min(width, x1) - left >= wide + PAD) return inside;
  if (x1 >= 0 && x1 + wide <= width) return { x: x1 + PAD, anchor: 'start', inside: false, from: x0, to: x1 + wide };
  if (x0 <= width && x0 - wide >= 0) return { x: x0 - PAD, anchor: 'end', inside: false, from: x0 - wide, to: x1 };
  // A narrow screen: whole words across the bar's end rather than half of them in it.
  return wide <= width ? { ...inside, x: Math.min(left + PAD, width - wide + PAD / 2), inside: false } : inside;
}
