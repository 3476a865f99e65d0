/** What a line's folder holds beside its variants' own folders and the cut and run lists: pages to open, print and hand out. Pure. */
import { catalogueHtml } from './goods/catalogue.ts';
import { type Door, indexHtml } from './goods/index-page.ts';
import { labelsHtml } from './goods/labels.ts';
import { priceCsv } from './goods/price-csv.ts';
import { priceHtml } from './goods/price-page.ts';
import type { MadeVariant } from './line.ts';
import { priceList } from './price-list.ts';

export interface GoodsOptions {
  /** What the line is called. */
  readonly title: string;
  /** Stock of one piece by the cut list, mm³, by variant slug: its true waste instead of a share. */
  readonly nested?: ReadonlyMap<string, number>;
  /** Further files that index.html leads to: the cut list, the run list. */
  readonly doors?: readonly Door[];
  /** Variants that the table asks for, where the run was stopped before its end. */
  readonly wanted?: number;
}

const DOORS: readonly Door[] = [
  { file: 'catalogue.html', label: 'Catalogue' },
  { file: 'price-list.html', label: 'Price list' },
  { file: 'price-list.csv', label: 'Price list as a table' },
  { file: 'labels.html', label: 'Labels' },
];

/**
 * @param line every variant that went through the pipeline, in the order of the table; folders are named for their slugs
 * @returns file name → text, index.html last: it appears when everything it leads to is there. With no proven variant only index.html
 * @throws Error if a report is not of its document
 */
export function goodsFiles(line: readonly MadeVariant[], options: GoodsOptions): Map<string, string> {
  const { title } = options;
  const list = priceList(line, options.nested);
  const files = new Map<string, string>();
  if (list.rows.length) {
    files.set('price-list.csv', priceCsv(list));
    files.set('price-list.html', priceHtml(title, list));
    files.set('catalogue.html', catalogueHtml(title, list));
    files.set('labels.html', labelsHtml(title, line));
  }
  const doors = [...(list.rows.length ? DOORS : []), ...(options.doors ?? [])];
  files.set('index.html', indexHtml(title, line, list, doors, options.wanted));
  return files;
}
