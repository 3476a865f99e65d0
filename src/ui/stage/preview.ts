/** The part as it is shown while a slider moves: as fine as the screen needs, made anew at every step. */
import { meshOf } from '../../mesh/mesh-of.ts';
import type { Field } from '../../profiles/field.ts';
import type { Shape } from '../state/contract.ts';
import { lit } from './arrises.ts';

/** Rings along a long part, and columns about it, at the most: a step must stay within a frame. */
export const PREVIEW = { rings: 130, columns: 48 } as const;

/** @param field of the document as it is now @returns a mesh with normals, part frame, mm */
export const previewOf = (field: Field): Shape => lit(meshOf(field, PREVIEW));
