/** Wood, computed where it is lit: growth rings about a pith beside the axis, pores drawn out along the grain. No pictures. */
import { type Color, MeshStandardMaterial } from 'three';

const GRAIN = /* glsl */ `
uniform vec3 uDeep;
uniform vec3 uLight;
uniform vec3 uPith;
varying vec3 vGrain;
float chance(vec3 p) { return fract(sin(dot(p, vec3(12.9898, 78.233, 37.719))) * 43758.5453); }
float cloud(vec3 p) {
  vec3 i = floor(p);
  vec3 f = fract(p);
  f = f * f * (3.0 - 2.0 * f);
  float a = mix(mix(chance(i), chance(i + vec3(1,0,0)), f.x), mix(chance(i + vec3(0,1,0)), chance(i + vec3(1,1,0)), f.x), f.y);
  float b = mix(mix(chance(i + vec3(0,0,1)), chance(i + vec3(1,0,1)), f.x), mix(chance(i + vec3(0,1,1)), chance(i + vec3(1,1,1)), f.x), f.y);
  return mix(a, b, f.z);
}
vec3 grained(vec3 base) {
  vec3 p = vGrain;
  float sway = cloud(vec3(p.x * 0.012, p.yz * 0.03)) * 5.0 + cloud(vec3(p.x * 0.05, p.yz * 0.09)) * 1.2;
  float ring = length(p.yz - uPith.yz) * 0.42 + sway * 0.5;
  float at = fract(ring);
  float soft = clamp(fwidth(ring) * 1.6, 0.0, 1.0);
  float late = smoothstep(0.35, 0.92, at) * (1.0 - smoothstep(0.92, 1.0, at));
  late = mix(late, 0.42, soft);
  float pores = cloud(vec3(p.x * 0.35, p.yz * 4.0));
  pores = mix(smoothstep(0.62, 0.95, pores), 0.12, clamp(fwidth(p.y * 4.0) + fwidth(p.z * 4.0), 0.0, 1.0));
  vec3 c = mix(base, uLight, 0.38 * cloud(vec3(p.x * 0.01, p.yz * 0.05)));
  c = mix(c, uDeep, 0.30 * late + 0.12 * pores);
  return c;
}
`;

/** @param base @param light @param deep of the wood @returns a lit material whose grain stays in the wood as it turns */
export function woodMaterial(base: Color, light: Color, deep: Color): MeshStandardMaterial {
  const material = new MeshStandardMaterial({ color: base, roughness: 0.62, metalness: 0 });
  material.onBeforeCompile = (shader) => {
    shader.uniforms.uDeep = { value: deep };
    shader.uniforms.uLight = { value: light };
    shader.uniforms.uPith = { value: { x: 0, y: 47, z: -61 } };
    shader.vertexShader = shader.vertexShader
      .replace('#include <common>', '#include <common>\nvarying vec3 vGrain;')
      .replace('#include <begin_vertex>', '#include <begin_vertex>\nvGrain = transformed;');
    shader.fragmentShader = shader.fragmentShader
      .replace('#include <common>', `#include <common>\n${GRAIN}`)
      .replace('#include <color_fragment>', '#include <color_fragment>\ndiffuseColor.rgb = grained(diffuseColor.rgb);');
  };
  return material;
}
