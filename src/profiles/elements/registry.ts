/** Every kind of element, in the order of the palette. */
import { z } from 'zod';
import type { ElementKind } from '../element.ts';
import { astragal } from './astragal.ts';
import { ball } from './ball.ts';
import { bead } from './bead.ts';
import { cavetto } from './cavetto.ts';
import { cove } from './cove.ts';
import { cylinder } from './cylinder.ts';
import { entasis } from './entasis.ts';
import { fillet } from './fillet.ts';
import { measured } from './measured.ts';
import { ogee } from './ogee.ts';
import { ovolo } from './ovolo.ts';
import { parting } from './parting.ts';
import { pommel } from './pommel.ts';
import { reverseOgee } from './reverse-ogee.ts';
import { scotia } from './scotia.ts';
import { spline } from './spline.ts';
import { taper } from './taper.ts';
import { torus } from './torus.ts';
import { vase } from './vase.ts';
import { vee } from './vee.ts';

const kinds = [
  cylinder,
  taper,
  fillet,
  bead,
  astragal,
  torus,
  ovolo,
  cavetto,
  cove,
  scotia,
  ogee,
  reverseOgee,
  vase,
  ball,
  vee,
  pommel,
  parting,
  spline,
  entasis,
  measured,
] as const;

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
