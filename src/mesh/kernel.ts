/**
 * The only door to the solid kernel (manifold-3d, WebAssembly). Solids live on its heap: whoever gets one calls `free`.
 * Runs in Node, in a page and in a worker; where the .wasm file does not lie beside the script, pass its address.
 */
import type { Manifold, ManifoldToplevel, Mesh as RawMesh } from 'manifold-3d';
import Module from 'manifold-3d';
import { type Mesh, massOfMesh } from './mesh.ts';

/** A solid on the kernel's heap. Numbers are of the solid as it is; operations give new solids and keep the old. */
export interface Solid {
  /** 'NoError', or the kernel's word for what is wrong with the mesh it was given. */
  readonly status: string;
  /** Handles through it; 0 for a ball. Means nothing unless status is 'NoError'. */
  readonly genus: number;
  /** mm³, negative if inside out. */
  readonly volume: number;
  /** mm². */
  readonly area: number;
  /** Number of triangles. */
  readonly size: number;
  /** Distance below which the kernel takes points for one, mm. */
  readonly grain: number;
  add(other: Solid): Solid;
  subtract(other: Solid): Solid;
  intersect(other: Solid): Solid;
  /** Moved by (x, y, z) mm. */
  moved(x: number, y: number, z: number): Solid;
  /** Smallest distance to another solid, mm; `within` if it is larger than that. */
  gap(other: Solid, within: number): number;
  mesh(): Mesh;
  /** Gives the memory back; the solid must not be used any more. */
  free(): void;
}

export interface Kernel {
  /** A solid from a closed mesh; a bad one gives a solid whose status says so. */
  solid(mesh: Mesh): Solid;
  /** How many solids are alive on the heap: for tests that nothing leaks. */
  alive(): number;
}

export interface KernelOptions {
  /** Address or path of manifold.wasm; default: beside the package's own script. */
  wasmUrl?: string;
}

let loading: Promise<Kernel> | undefined;

/**
 * Loads the kernel, once; later calls give the same one.
 * @throws Error if the .wasm file cannot be fetched or compiled; the next call tries again
 */
export function loadKernel(options: KernelOptions = {}): Promise<Kernel> {
  loading ??= start(options).catch((fault: unknown) => {
    loading = undefined;
    throw fault;
  });
  return loading;
}

async function start({ wasmUrl }: KernelOptions): Promise<Kernel> {
  const top = await (wasmUrl === undefined ? Module() : Module({ locateFile: () => wasmUrl }));
  top.setup();
  return kernelOf(top);
}

function kernelOf(top: ManifoldToplevel): Kernel {
  let alive = 0;
  const inside = new WeakMap<Solid, Manifold>();
  const raw = (solid: Solid): Manifold => {
    const found = inside.get(solid);
    if (!found) throw new Error('expected a living solid of this kernel, got one that was freed or is not its own');
    return found;
  };
  const wrap = (m: Manifold, fault?: string): Solid => {
    alive++;
    const solid: Solid = {
      get status() {
        return fault ?? raw(solid).status();
      },
      get genus() {
        return raw(solid).genus();
      },
      get volume() {
        return raw(solid).volume();
      },
      get area() {
        return raw(solid).surfaceArea();
      },
      get size() {
        return raw(solid).numTri();
      },
      get grain() {
        return raw(solid).tolerance();
      },
      add: (other) => wrap(raw(solid).add(raw(other))),
      subtract: (other) => wrap(raw(solid).subtract(raw(other))),
      intersect: (other) => wrap(raw(solid).intersect(raw(other))),
      moved: (x, y, z) => wrap(raw(solid).translate(x, y, z)),
      gap: (other, within) => raw(solid).minGap(raw(other), within),
      mesh: () => meshFrom(raw(solid).getMesh()),
      free: () => {
        raw(solid).delete();
        inside.delete(solid);
        alive--;
      },
    };
    inside.set(solid, m);
    return solid;
  };
  return {
    solid: (mesh) => {
      const given = new top.Mesh({
        numProp: 3,
        vertProperties: mesh.positions instanceof Float32Array ? mesh.positions : Float32Array.from(mesh.positions),
        triVerts: mesh.triangles,
      });
      try {
        return wrap(new top.Manifold(given));
      } catch (fault) {
        // The kernel throws for a mesh that is not closed or has wrong numbers: an empty solid carries its word for it.
        const code = (fault as { code?: unknown }).code;
        if (typeof code !== 'string') throw fault;
        return wrap(top.Manifold.union([]), code);
      }
    },
    alive: () => alive,
  };
}

/** Copies the kernel's mesh out of its heap, positions only, points that it holds for one united. */
function meshFrom(m: RawMesh): Mesh {
  const stride = m.numProp;
  const count = m.vertProperties.length / stride;
  const goes = Uint32Array.from({ length: count }, (_, k) => k);
  m.mergeFromVert?.forEach((from, k) => {
    goes[from] = m.mergeToVert[k]!;
  });
  const place = new Uint32Array(count);
  let n = 0;
  for (let k = 0; k < count; k++) if (goes[k] === k) place[k] = n++;
  const positions = new Float32Array(3 * n);
  for (let k = 0; k < count; k++)
    if (goes[k] === k) positions.set(m.vertProperties.subarray(stride * k, stride * k + 3), 3 * place[k]!);
  const triangles = Uint32Array.from(m.triVerts, (v) => place[goes[v]!]!);
  return { positions, triangles, outward: massOfMesh({ positions, triangles }).volume > 0 };
}
