/** The wood while it is cut: one mesh over the worker's rays, whose radii are read on the graphics side from one small picture. */
import { useThree } from '@react-three/fiber';
import { useEffect, useMemo } from 'react';
import { DataTexture, FloatType, type MeshStandardMaterial, NearestFilter, RedFormat } from 'three';
import { type Loaded, session } from '../play/session.ts';
import { cutMesh } from './cut-mesh.ts';
import type { Palette } from './palette.ts';
import { woodMaterial } from './wood-material.ts';

const PLACE = /* glsl */ `
attribute vec2 aRay;
attribute vec2 aNext;
uniform sampler2D uRadii;
uniform float uColumns;
float radiusAt(float row, float column) {
  return texelFetch(uRadii, ivec2(int(mod(column + uColumns, uColumns)), int(row)), 0).r;
}
vec3 rayPlace(float x, float row, float column) {
  float r = radiusAt(row, column);
  float t = 6.283185307179586 * column / uColumns;
  return vec3(x, -r * sin(t), r * cos(t));
}
`;
/** Rows beside the vertex' own, held within the wood; a vertex with position.y = 0 is the middle of an end. */
const NORMAL = /* glsl */ `
float rows = float(textureSize(uRadii, 0).y);
vec3 objectNormal = vec3(position.z, 0.0, 0.0);
if (position.y > 0.5) {
  vec3 alongX = rayPlace(aNext.y, min(aRay.x + 1.0, rows - 1.0), aRay.y) - rayPlace(aNext.x, max(aRay.x - 1.0, 0.0), aRay.y);
  vec3 aroundX = rayPlace(position.x, aRay.x, aRay.y + 1.0) - rayPlace(position.x, aRay.x, aRay.y - 1.0);
  objectNormal = normalize(cross(aroundX, alongX));
}
`;
const BEGIN = /* glsl */ `
vec3 transformed = position.y > 0.5 ? rayPlace(position.x, aRay.x, aRay.y) : vec3(position.x, 0.0, 0.0);
vGrain = transformed;
`;
/** Where the mean normal and the face's own differ much there is an arris: it stays sharp. */
const ARRIS = /* glsl */ `
vec3 flatNormal = normalize(cross(dFdx(vViewPosition), dFdy(vViewPosition)));
normal = normalize(mix(flatNormal, normal, smoothstep(0.72, 0.86, dot(normal, flatNormal))));
`;

function materialOf(palette: Palette, radii: DataTexture, columns: number): MeshStandardMaterial {
  const material = woodMaterial(palette.wood, palette['wood-light'], palette['wood-deep']);
  const grained = material.onBeforeCompile.bind(material);
  material.onBeforeCompile = (shader, renderer) => {
    shader.uniforms.uRadii = { value: radii };
    shader.uniforms.uColumns = { value: columns };
    shader.vertexShader = shader.vertexShader
      .replace('#include <common>', `#include <common>\n${PLACE}`)
      .replace('#include <beginnormal_vertex>', NORMAL)
      .replace('#include <begin_vertex>', BEGIN.replace('vGrain = transformed;', '#include <begin_cut>'));
    grained(shader, renderer);
    shader.vertexShader = shader.vertexShader.replace('#include <begin_cut>', 'vGrain = transformed;');
    shader.fragmentShader = shader.fragmentShader.replace(
      '#include <normal_fragment_maps>',
      `#include <normal_fragment_maps>\n${ARRIS}`,
    );
  };
  material.customProgramCacheKey = () => 'wood being cut';
  return material;
}

export function CutWood({ loaded, palette }: { loaded: Loaded; palette: Palette }) {
  const invalidate = useThree((s) => s.invalidate);
  const geometry = useMemo(() => cutMesh(loaded.xs, loaded.columns), [loaded]);
  const picture = useMemo(() => {
    const made = new DataTexture(
      loaded.radii as Float32Array<ArrayBuffer>,
      loaded.columns,
      loaded.xs.length,
      RedFormat,
      FloatType,
    );
    made.minFilter = NearestFilter;
    made.magFilter = NearestFilter;
    made.needsUpdate = true;
    return made;
  }, [loaded]);
  const material = useMemo(() => materialOf(palette, picture, loaded.columns), [palette, picture, loaded]);
  useEffect(
    () =>
      session.subscribe((now, before) => {
        if (now.revision === before.revision) return;
        picture.needsUpdate = true;
        invalidate();
      }),
    [picture, invalidate],
  );
  useEffect(() => () => geometry.dispose(), [geometry]);
  useEffect(() => () => picture.dispose(), [picture]);
  useEffect(() => () => material.dispose(), [material]);
  return <mesh geometry={geometry} material={material} frustumCulled={false} />;
}
