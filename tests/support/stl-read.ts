/** Reads a binary STL by the published layout alone, and says what it bounds. Shares no code with the writer. */

export interface Bounded {
  triangles: number;
  /** Edges that are not walked once in each direction; a closed, well-wound surface has none. */
  open: number;
  /** By the divergence theorem, mm³: a sixth of the sum of the triple products. */
  volume: number;
  /** Least and largest of each coordinate, mm. */
  from: [number, number, number];
  to: [number, number, number];
}

/** @param bytes 80 of header, a little-endian count, then 50 for each triangle: normal, three corners, two unused bytes */
export function readSolid(bytes: Uint8Array): Bounded {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const triangles = view.getUint32(80, true);
  if (bytes.byteLength !== 84 + 50 * triangles)
    throw new Error(`${triangles} triangles do not fill ${bytes.byteLength} bytes`);
  const names = new Map<string, number>();
  const walked = new Map<string, number>();
  const from: [number, number, number] = [Infinity, Infinity, Infinity];
  const to: [number, number, number] = [-Infinity, -Infinity, -Infinity];
  let six = 0;
  for (let k = 0; k < triangles; k++) {
    const corners = [0, 1, 2].map((c) => {
      const at = 84 + 50 * k + 12 * (c + 1);
      const p = [0, 4, 8].map((o) => view.getFloat32(at + o, true)) as [number, number, number];
      for (const a of [0, 1, 2] as const) {
        from[a] = Math.min(from[a], p[a]);
        to[a] = Math.max(to[a], p[a]);
      }
      const key = p.join(' ');
      if (!names.has(key)) names.set(key, names.size);
      return { p, id: names.get(key)! };
    });
    const [a, b, c] = corners.map((q) => q.p) as unknown as [number[], number[], number[]];
    six +=
      a[0]! * (b[1]! * c[2]! - b[2]! * c[1]!) +
      a[1]! * (b[2]! * c[0]! - b[0]! * c[2]!) +
      a[2]! * (b[0]! * c[1]! - b[1]! * c[0]!);
    for (let e = 0; e < 3; e++) {
      const [p, q] = [corners[e]!.id, corners[(e + 1) % 3]!.id];
      // One way adds, the other takes off: what is left over is open, or wound against its neighbour.
      const [key, sign] = p < q ? [`${p} ${q}`, 1] : [`${q} ${p}`, -1];
      walked.set(key, (walked.get(key) ?? 0) + sign);
    }
  }
  const open = [...walked.values()].filter((n) => n !== 0).length;
  return { triangles, open, volume: six / 6, from, to };
}
