/** What a solid weighs and where its centre is. */
import type { Solid } from './kernel.ts';
import { massOfMesh } from './mesh.ts';

export interface Measures {
  /** mm³. */
  volume: number;
  /** mm². */
  area: number;
  /** Centre of volume, part frame, mm. */
  centre: [number, number, number];
  /** Corners of the box around it, part frame, mm. */
  low: [number, number, number];
  high: [number, number, number];
  triangles: number;
}

const CUBIC_MM_PER_CUBIC_M = 1e9;

/** Measures a solid. Volume, area and centre come from its triangles. */
export function measure(solid: Solid): Measures {
  const mesh = solid.mesh();
  const { volume, area, centre } = massOfMesh(mesh);
  const low: [number, number, number] = [Infinity, Infinity, Infinity];
  const high: [number, number, number] = [-Infinity, -Infinity, -Infinity];
  mesh.positions.forEach((c, k) => {
    low[k % 3] = Math.min(low[k % 3]!, c);
    high[k % 3] = Math.max(high[k % 3]!, c);
  });
  return { volume, area, centre, low, high, triangles: mesh.triangles.length / 3 };
}

/** Mass. @param volume mm³ @param density kg/m³ @returns kg */
export const massOf = (volume: number, density: number): number => (volume / CUBIC_MM_PER_CUBIC_M) * density;
