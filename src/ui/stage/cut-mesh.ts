/** The mesh that wood is shown on while it is cut. */
import { BufferAttribute, BufferGeometry } from 'three';

/**
 * A closed mesh over rows × columns rays and two poles. Its points are told by what they belong to; the radii come later.
 * @param xs rows, mm, ascending @param columns about the axis, column j at 2π·j/columns
 * @returns attributes `position` (x, 1 for a ray and 0 for a pole, side that a pole faces), `aRay` (row, column), `aNext` (x of the rows beside)
 */
export function cutMesh(xs: Float64Array, columns: number): BufferGeometry {
  const rows = xs.length;
  const count = rows * columns + 2;
  const position = new Float32Array(3 * count);
  const ray = new Float32Array(2 * count);
  const next = new Float32Array(2 * count);
  for (let i = 0; i < rows; i++)
    for (let j = 0; j < columns; j++) {
      const v = i * columns + j;
      position[3 * v] = xs[i]!;
      position[3 * v + 1] = 1;
      ray[2 * v] = i;
      ray[2 * v + 1] = j;
      next[2 * v] = xs[Math.max(0, i - 1)]!;
      next[2 * v + 1] = xs[Math.min(rows - 1, i + 1)]!;
    }
  const index = new Uint32Array(6 * (rows - 1) * columns + 6 * columns);
  let n = 0;
  const push = (a: number, b: number, c: number) => {
    index[n++] = a;
    index[n++] = b;
    index[n++] = c;
  };
  for (let i = 0; i + 1 < rows; i++)
    for (let j = 0; j < columns; j++) {
      const k = (j + 1) % columns;
      const [a, b, c, d] = [i * columns + j, i * columns + k, (i + 1) * columns + j, (i + 1) * columns + k];
      push(a, b, c);
      push(b, d, c);
    }
  for (const [end, pole] of [
    [0, rows * columns],
    [rows - 1, rows * columns + 1],
  ] as const) {
    position[3 * pole] = xs[end]!;
    position[3 * pole + 2] = end ? 1 : -1;
    for (let j = 0; j < columns; j++) {
      const [a, b] = [end * columns + j, end * columns + ((j + 1) % columns)];
      if (end) push(pole, a, b);
      else push(pole, b, a);
    }
  }
  const geometry = new BufferGeometry();
  geometry.setAttribute('position', new BufferAttribute(position, 3));
  geometry.setAttribute('aRay', new BufferAttribute(ray, 2));
  geometry.setAttribute('aNext', new BufferAttribute(next, 2));
  geometry.setIndex(new BufferAttribute(index, 1));
  return geometry;
}
