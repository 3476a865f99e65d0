/** Text into HTML, numbers into text: the small change of the setup sheet. */
import { inches } from '../../../shared/units.ts';

/** Escapes what a person wrote. */
export const safe = (text: string): string =>
  text.replace(/[&<>"']/g, (c) => ({ '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;', "'": '&#39;' })[c]!);

/** A number without needless zeros. */
export const plain = (value: number, decimals: number): string => String(Number(value.toFixed(decimals)) || 0);

/** Deepest gouge in words. @param deepest @param allowed mm */
export function gougeText(deepest: number, allowed: number): string {
  const told = plain(deepest, 3);
  return Number(told) > 0
    ? `no gouge deeper than ${told} mm (${plain(allowed, 3)} mm are allowed)`
    : `nothing gouged (${plain(allowed, 3)} mm would be allowed)`;
}

/** Writes lengths, in the unit that a person works in. */
export type LengthText = (mm: number) => string;
export const lengthsIn =
  (inch: boolean): LengthText =>
  (mm) =>
    inch ? `${plain(inches(mm), 3)}″` : `${plain(mm, 1)} mm`;

/** A table. @param head column titles @param rows cells, already HTML @param name class that the style knows */
export const table = (head: readonly string[], rows: readonly (readonly string[])[], name: string): string =>
  `<table class="${name}"><thead><tr>${head.map((h) => `<th scope="col">${h}</th>`).join('')}</tr></thead><tbody>${rows
    .map((r) => `<tr>${r.map((c) => `<td>${c}</td>`).join('')}</tr>`)
    .join('')}</tbody></table>`;

/** A list of sentences, already HTML. */
export const list = (items: readonly string[], kind: 'ul' | 'ol' = 'ul'): string =>
  `<${kind}>${items.map((i) => `<li>${i}</li>`).join('')}</${kind}>`;
