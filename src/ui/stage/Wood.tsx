/** The part: the preview at once, the exact solid as soon as it belongs to the document as it is now. */
import { useEffect, useMemo } from 'react';
import { BufferAttribute, BufferGeometry } from 'three';
import { useShop } from '../shop.ts';
import type { Shape } from '../state/contract.ts';
import type { Palette } from './palette.ts';
import { previewOf } from './preview.ts';
import { woodMaterial } from './wood-material.ts';

function geometryOf(mesh: Shape): BufferGeometry {
  const geometry = new BufferGeometry();
  geometry.setAttribute('position', new BufferAttribute(mesh.positions, 3));
  geometry.setAttribute('normal', new BufferAttribute(mesh.normals, 3));
  geometry.setIndex(new BufferAttribute(mesh.triangles, 1));
  return geometry;
}

/** One material for all wood on the stage. */
export function useWood(palette: Palette) {
  const material = useMemo(() => woodMaterial(palette.wood, palette['wood-light'], palette['wood-deep']), [palette]);
  useEffect(() => () => material.dispose(), [material]);
  return material;
}

export function Wood({ palette, visible }: { palette: Palette; visible: boolean }) {
  const field = useShop((s) => s.lastGood?.field);
  const serial = useShop((s) => s.serial);
  const solid = useShop((s) => s.solid);
  const shape = solid.status === 'ready' && solid.serial === serial ? solid.value.shape : undefined;
  const geometry = useMemo(
    () => (shape ? geometryOf(shape) : field ? geometryOf(previewOf(field)) : undefined),
    [shape, field],
  );
  useEffect(() => () => geometry?.dispose(), [geometry]);
  const material = useWood(palette);
  // Its own sphere would be worked out anew at every step, and it is nearly always in view.
  return geometry ? <mesh geometry={geometry} material={material} visible={visible} frustumCulled={false} /> : null;
}
