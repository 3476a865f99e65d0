/** Which catalog a place of the document takes its rows from. */
import type { z } from 'zod';
import {
  benches,
  benchSchema,
  bitSchema,
  bits,
  controlSchema,
  controls,
  materialSchema,
  materials,
} from '../../shared/catalog.ts';
import { bare } from './walk.ts';

export interface CatalogPlace {
  /** Of one row. */
  readonly schema: z.ZodType;
  readonly rows: readonly { id: string; label: string }[];
}

/** Catalogs by the schema of their rows. */
const catalogs = new Map<z.ZodType, CatalogPlace['rows']>([
  [materialSchema, materials],
  [benchSchema, benches],
  [controlSchema, controls],
  [bitSchema, bits],
]);

/** The catalog that a place takes its rows from; undefined if it is no such place. */
export function catalogAt(schema: z.ZodType): CatalogPlace | undefined {
  for (const option of (bare(schema) as unknown as { def: { options?: z.ZodType[] } }).def.options ?? []) {
    const rows = catalogs.get(option);
    if (rows) return { schema: option, rows };
  }
  return undefined;
}
