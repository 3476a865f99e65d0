/** Few words for what lies on the lanes. Pure. */
import { elementKind } from '../../profiles/elements/registry.ts';
import type { PlacedElement } from '../../profiles/layout.ts';
import { lengthNumber, type ShownUnits } from '../measure.ts';

const ENDINGS: Record<string, string> = { 1: 'st', 2: 'nd', 3: 'rd' };

/** 1 → 1st. */
export function ordinal(n: number): string {
  const teen = n % 100 >= 11 && n % 100 <= 13;
  return `${n}${teen ? 'th' : (ENDINGS[n % 10] ?? 'th')}`;
}

/** `taper · 260 · ø25 → ø35` */
export function elementWords(p: PlacedElement, shown: ShownUnits): string {
  const number = (mm: number) => lengthNumber(mm, shown);
  const ends = Math.abs(p.start - p.end) < 0.005 ? `ø${number(p.start)}` : `ø${number(p.start)} → ø${number(p.end)}`;
  return `${elementKind(p.kind).label} · ${number(p.to - p.from)} · ${ends}`;
}

/** Time as a person says it. @param seconds s */
export function timeWords(seconds: number): string {
  if (seconds < 90) return `${Math.round(seconds)} s`;
  const minutes = Math.round(seconds / 60);
  return minutes < 120 ? `${minutes} min` : `${Math.floor(minutes / 60)} h ${String(minutes % 60).padStart(2, '0')}`;
}
