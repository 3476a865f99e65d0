/** Field → solid: the mesh of the field, with tenons added, bore and radial holes taken away. */
import { SOLID_TOLERANCE } from '../../shared/tolerances.ts';
import type { Field } from '../profiles/field.ts';
import { type Bore, boreRod, holeRods, type Tenon, tenonRod } from './additions.ts';
import { type KernelOptions, loadKernel, type Solid } from './kernel.ts';
import { meshOf } from './mesh-of.ts';
import { type Rod, rodMesh } from './rod.ts';

/** What the solid is to have beside the field. */
export interface SolidOptions extends KernelOptions {
  /** Largest distance between solid and field, mm; default SOLID_TOLERANCE. */
  tolerance?: number;
  tenons?: readonly Tenon[];
  bore?: Bore;
}

/** Longest tenon at the chuck and at the tail end, mm. */
export const tenonLengths = (tenons: readonly Tenon[]): [number, number] => [
  Math.max(0, ...tenons.filter((t) => t.end === 'chuck').map((t) => t.length)),
  Math.max(0, ...tenons.filter((t) => t.end === 'tail').map((t) => t.length)),
];

/**
 * Builds the solid of a field.
 * @returns the solid; the caller frees it
 * @throws Error if the kernel cannot be loaded
 */
export async function solidOf(field: Field, options: SolidOptions = {}): Promise<Solid> {
  const kernel = await loadKernel(options);
  const tolerance = options.tolerance ?? SOLID_TOLERANCE;
  const tenons = options.tenons ?? [];
  let solid = kernel.solid(meshOf(field, { tolerance }));
  if (solid.status !== 'NoError') return solid;
  const change = (rod: Rod, how: 'add' | 'subtract') => {
    const other = kernel.solid(rodMesh(rod, tolerance));
    const next = solid[how](other);
    other.free();
    solid.free();
    solid = next;
  };
  for (const t of tenons) change(tenonRod(field, t), 'add');
  if (options.bore) change(boreRod(field, options.bore, tenonLengths(tenons)), 'subtract');
  for (const rod of holeRods(field)) change(rod, 'subtract');
  // Booleans are put off until asked for: asked here, so that the cost falls where the solid is built.
  void solid.status;
  return solid;
}
