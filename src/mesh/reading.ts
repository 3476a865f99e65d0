/** What a reader of mesh files gives back: the mesh if there is one, and what is wrong with the file. */
import type { Problem } from '../../shared/problems.ts';
import type { Mesh } from './mesh.ts';

export interface Reading {
  mesh?: Mesh;
  problems: Problem[];
}

/** A problem of a mesh file. @param format its name @param message what is wrong @param allowed what is right */
export const fileProblem = (format: string, message: string, allowed?: string): Problem => ({
  code: 'mesh-file',
  severity: 'refuse',
  path: format,
  message,
  ...(allowed === undefined ? {} : { allowed }),
});
