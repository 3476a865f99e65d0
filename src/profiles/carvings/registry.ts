/** Every kind of carving, in the order of the palette. */
import { z } from 'zod';
import type { CarvingKind } from '../carving.ts';
import { crossed } from './crossed.ts';
import { facets } from './facets.ts';
import { flutes } from './flutes.ts';
import { groove } from './groove.ts';
import { holes } from './holes.ts';
import { lobes } from './lobes.ts';
import { reeds } from './reeds.ts';
import { twist } from './twist.ts';

const kinds = [flutes, reeds, facets, twist, lobes, groove, crossed, holes] as const;

type Schemas<T extends readonly { schema: z.ZodObject }[]> = { -readonly [K in keyof T]: T[K]['schema'] };
/** One carving, told by its `carving`. */
export const carvingSchema = z.discriminatedUnion(
  'carving',
  kinds.map((k) => k.schema) as unknown as Schemas<typeof kinds>,
);
export type Carving = z.infer<typeof carvingSchema>;
export type CarvingName = Carving['carving'];

/** All kinds with label and meaning, for palettes, docs and checks. */
export const carvingKinds: readonly CarvingKind[] = kinds as unknown as readonly CarvingKind[];

/** @throws if there is no such kind: names come from the schema */
export function carvingKind(name: string): CarvingKind {
  const kind = carvingKinds.find((k) => k.kind === name);
  if (!kind) throw new Error(`no kind of carving is called ${name}`);
  return kind;
}

/** A whole, valid carving of a kind, as the palette puts it on a form. */
export const defaultCarving = (name: CarvingName): Carving => structuredClone(carvingKind(name).example) as Carving;
