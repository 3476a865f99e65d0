/** The blank as a ghost: its true section between its two ends, edges dashed. */
import { useEffect, useMemo } from 'react';
import {
  BufferGeometry,
  DoubleSide,
  ExtrudeGeometry,
  Float32BufferAttribute,
  LineDashedMaterial,
  LineSegments,
  Matrix4,
  Shape,
} from 'three';
import type { Blank } from '../../cam/blank.ts';
import type { Palette } from './palette.ts';
import { cornersOf } from './section.ts';

export function Ghost({ blank, palette, dash }: { blank: Blank; palette: Palette; dash: number }) {
  const body = useMemo(() => {
    const shape = new Shape();
    cornersOf(blank).forEach(([y, z], k) => {
      if (k) shape.lineTo(y, z);
      else shape.moveTo(y, z);
    });
    const geometry = new ExtrudeGeometry(shape, { depth: blank.to - blank.from, bevelEnabled: false });
    // The shape's own (x, y, z) are the part's (y, z, x).
    geometry.applyMatrix4(new Matrix4().set(0, 0, 1, blank.from, 1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 0, 1));
    return geometry;
  }, [blank]);
  const edges = useMemo(() => {
    const corners = cornersOf(blank);
    const points: number[] = [];
    corners.forEach(([y, z], k) => {
      const [y2, z2] = corners[(k + 1) % corners.length]!;
      for (const x of [blank.from, blank.to]) points.push(x, y, z, x, y2, z2);
      if (blank.section !== 'round') points.push(blank.from, y, z, blank.to, y, z);
    });
    const geometry = new BufferGeometry();
    geometry.setAttribute('position', new Float32BufferAttribute(points, 3));
    return geometry;
  }, [blank]);
  const lines = useMemo(() => {
    const made = new LineSegments(
      edges,
      new LineDashedMaterial({ color: palette.ochre, transparent: true, opacity: 0.75 }),
    );
    made.computeLineDistances();
    return made;
  }, [edges, palette]);
  const material = lines.material as LineDashedMaterial;
  material.dashSize = dash;
  material.gapSize = 0.8 * dash;
  useEffect(() => () => body.dispose(), [body]);
  useEffect(
    () => () => {
      edges.dispose();
      material.dispose();
    },
    [edges, material],
  );
  return (
    <group>
      <mesh geometry={body} renderOrder={2}>
        <meshBasicMaterial
          color={palette['wood-light']}
          transparent
          opacity={palette.dark ? 0.09 : 0.16}
          depthWrite={false}
          side={DoubleSide}
        />
      </mesh>
      <primitive object={lines} renderOrder={3} />
    </group>
  );
}
