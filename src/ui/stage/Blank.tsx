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

export function Ghost({ blank: now, palette, dash }: { blank: Blank; palette: Palette; dash: number }) {
  // Every step of a slider makes a new job; most leave the blank as it is.
  const said = JSON.stringify(now);
  const blank = useMemo(() => JSON.parse(said) as Blank, [said]);
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
  // Kept when the blank changes: a material made anew is a program compiled anew.
  const material = useMemo(
    () => new LineDashedMaterial({ color: palette.ochre, transparent: true, opacity: 0.75 }),
    [palette],
  );
  const lines = useMemo(() => {
    const made = new LineSegments(edges, material);
    made.computeLineDistances();
    return made;
  }, [edges, material]);
  material.dashSize = dash;
  material.gapSize = 0.8 * dash;
  useEffect(() => () => body.dispose(), [body]);
  useEffect(() => () => edges.dispose(), [edges]);
  useEffect(() => () => material.dispose(), [material]);
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
