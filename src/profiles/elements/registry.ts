/** Every kind of element, in the order of the palette. */
import { z } from 'zod';
import type { ElementKind } from '../element.ts';
import { bead } from './bead.ts';
import { cove } from './cove.ts';
import { cylinder } from './cylinder.ts';
import { entasis } from './entasis.ts';
import { fillet } from './fillet.ts';
import { pommel } from './pommel.ts';
import { taper } from './taper.ts';

const kinds = [cylinder, taper, fillet, bead, cove, pommel, entasis] as const;

type Schemas<T extends readonly { schema: z.ZodObject }[]> = { -readonly [K in keyof T]: T[K]['schema'] };
/** One element of a form, told by its `element`. */
export const elementSchema = z.discriminatedUnion(
  'element',
  kinds.map((k) => k.schema) as unknown as Schemas<typeof kinds>,
);
export type Element = z.infer<typeof elementSchema>;
export type ElementName = Element['element'];

/** All kinds with label and meaning, for palettes, docs and checks. */
export const elementKinds: readonly ElementKind[] = kinds as unknown as readonly ElementKind[];

/** @throws if there is no such kind: names come from the schema */
export function elementKind(name: string): ElementKind {
  const kind = elementKinds.find((k) => k.kind === name);
  if (!kind) throw new Error(`no kind of element is called ${name}`);
  return kind;
}

/** A whole, valid element of a kind, as the palette puts it into a form. */
export const defaultElement = (name: ElementName): Element => structuredClone(elementKind(name).example) as Element;
