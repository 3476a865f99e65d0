/** OBJ, the plain subset of points and faces. Numbers of points count from 1, or back from the newest when negative. */
import { coordinateText, type Mesh, massOfMesh } from './mesh.ts';
import { fileProblem, type Reading } from './reading.ts';

/** Writes a mesh as text, one point or triangle a line. @returns text with a line feed after each line */
export function writeObj(mesh: Mesh): string {
  const { positions: p, triangles: t } = mesh;
  const text = (k: number) => coordinateText(p, k);
  const lines = ['# millimetres, x along the rotary axis'];
  for (let k = 0; k < p.length; k += 3) lines.push(`v ${text(k)} ${text(k + 1)} ${text(k + 2)}`);
  for (let k = 0; k < t.length; k += 3) lines.push(`f ${t[k]! + 1} ${t[k + 1]! + 1} ${t[k + 2]! + 1}`);
  return `${lines.join('\n')}\n`;
}

/** Reads points and faces; faces with more than three corners are fanned; other lines are passed over. */
export function readObj(text: string): Reading {
  const bad = (line: number, message: string, allowed?: string): Reading => ({
    problems: [fileProblem('OBJ', `line ${line}: ${message}`, allowed)],
  });
  const coordinates: number[] = [];
  const triangles: number[] = [];
  const faceLines: number[] = [];
  // A backslash at the end carries a line on.
  const lines = text.replace(/\\\r?\n/g, ' ').split('\n');
  for (let n = 0; n < lines.length; n++) {
    const words = lines[n]!.split('#')[0]!.trim().split(/\s+/);
    if (words[0] === 'v') {
      const xyz = words.slice(1, 4).map(Number);
      if (xyz.length < 3 || !xyz.every(Number.isFinite)) return bad(n + 1, 'a point without three finite numbers');
      coordinates.push(...xyz);
    } else if (words[0] === 'f') {
      const count = coordinates.length / 3;
      const corners = words.slice(1).map((w) => {
        const k = /^-?\d+(\/-?\d*){0,2}$/.test(w) ? Number.parseInt(w, 10) : 0;
        return k < 0 ? count + k : k - 1;
      });
      if (corners.length < 3) return bad(n + 1, 'a face with fewer than three corners');
      if (corners.some((k) => k < 0)) return bad(n + 1, 'a face names no such point', 'numbers from 1, or −1 and back');
      for (let k = 2; k < corners.length; k++) {
        triangles.push(corners[0]!, corners[k - 1]!, corners[k]!);
        faceLines.push(n + 1);
      }
    }
  }
  const count = coordinates.length / 3;
  const wrong = triangles.findIndex((k) => k >= count);
  if (wrong >= 0)
    return bad(faceLines[Math.floor(wrong / 3)]!, `a face names point ${triangles[wrong]! + 1}`, `1 to ${count}`);
  if (triangles.length === 0) return { problems: [fileProblem('OBJ', 'the file holds no face')] };
  const mesh = { positions: Float64Array.from(coordinates), triangles: Uint32Array.from(triangles) };
  return { mesh: { ...mesh, outward: massOfMesh(mesh).volume > 0 }, problems: [] };
}
