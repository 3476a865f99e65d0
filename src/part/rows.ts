/** A place that names a catalog row by its id or carries a whole row of its own. */
import { z } from 'zod';
import type { About } from '../../shared/schema.ts';

/** @param row schema of the catalog's rows @returns a schema for an id or such a row */
export const idOrRow = <T extends z.ZodType>(row: T, about: About) =>
  z
    .union([z.string().min(1).max(80).meta({ label: about.label, description: about.description }), row])
    .meta({ label: about.label, description: about.description });
