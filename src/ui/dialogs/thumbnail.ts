/** A document's silhouette for the drawer. Pure. */

import { outlineDrawing } from '../../profiles/sample.ts';
import { carvedPath, linePath } from '../lanes/outline-path.ts';
import type { Raw } from '../state/contract.ts';
import { derive } from '../state/derive.ts';

export interface Thumbnail {
  name: string;
  outline: string;
  carved: string;
  facts: string;
}

/** @returns undefined if the document has no form @param width, height px of its box */
export function thumbnail(raw: Raw, width: number, height: number): Thumbnail | undefined {
  const { field, part } = derive(raw);
  if (!field || !part) return undefined;
  const scale = Math.min((width - 4) / field.length, (height - 4) / 2 / field.maxRadius);
  const drawn = outlineDrawing(field, 0.4 / scale);
  const left = (width - field.length * scale) / 2;
  const across = (x: number) => left + x * scale;
  const up = { base: height / 2, perMm: scale };
  const below = { base: height / 2, perMm: -scale };
  const upper = linePath(drawn.x, drawn.most, across, up);
  const lower = linePath(drawn.x.toReversed(), drawn.most.toReversed(), across, below);
  const carvings = part.carvings?.length ? `, ${part.carvings.map((c) => c.carving).join(', ')}` : '';
  // A length that keeps the stock's section is measured over its corners.
  const over = field.kept.length && part.blank.section !== 'round' ? 'across the corners' : 'thick';
  return {
    name: part.name,
    outline: `${upper}${lower.replace('M', 'L')}Z`,
    carved: carvedPath(drawn, across, up),
    facts: `${Math.round(field.length)} long, ${Math.round(2 * field.maxRadius)} ${over}${carvings}`,
  };
}
