/** The bit with its shank and holder, upright above the work. */
import { useEffect, useMemo } from 'react';
import { LatheGeometry, Vector2 } from 'three';
import type { Bit } from '../../../shared/catalog.ts';
import { bitOutlines, type HalfOutline } from './bit-outline.ts';
import type { Palette } from './palette.ts';

function useLathe(outline: HalfOutline): LatheGeometry {
  const geometry = useMemo(
    () =>
      new LatheGeometry(
        outline.map(([r, z]) => new Vector2(r, z)),
        48,
      ),
    [outline],
  );
  useEffect(() => () => geometry.dispose(), [geometry]);
  return geometry;
}

/** @param bit catalog row; mounted in a group that stands at its tip */
export function BitShown({ bit, palette }: { bit: Bit; palette: Palette }) {
  const outlines = useMemo(() => bitOutlines(bit), [bit]);
  const end = useLathe(outlines.end);
  const shank = useLathe(outlines.shank);
  const holder = useLathe(outlines.holder);
  return (
    <group rotation={[Math.PI / 2, 0, 0]}>
      <mesh geometry={end}>
        <meshStandardMaterial
          color={palette.verdigris}
          emissive={palette.verdigris}
          emissiveIntensity={0.35}
          roughness={0.35}
          metalness={0.05}
        />
      </mesh>
      <mesh geometry={shank}>
        <meshStandardMaterial color={palette['steel-light']} roughness={0.35} metalness={0.15} />
      </mesh>
      <mesh geometry={holder}>
        <meshStandardMaterial color={palette.steel} roughness={0.5} metalness={0.1} />
      </mesh>
    </group>
  );
}
