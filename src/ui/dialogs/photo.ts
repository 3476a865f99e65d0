/** A photograph of an old part laid behind the Form lane. It stays in this tab: nothing of it is stored or sent. */
import { useSyncExternalStore } from 'react';

export interface Photo {
  url: string;
  /** px of the picture. */
  width: number;
  height: number;
  /** Two points on its axis, px of the picture, and where they stand on the form, mm. */
  a: { px: number; py: number; x: number };
  b: { px: number; py: number; x: number };
}

let photo: Photo | undefined;
const listeners = new Set<() => void>();

export function layPhoto(next: Photo | undefined): void {
  if (photo && photo.url !== next?.url) URL.revokeObjectURL(photo.url);
  photo = next;
  for (const listener of listeners) listener();
}

export const usePhoto = (): Photo | undefined =>
  useSyncExternalStore(
    (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    () => photo,
  );

/**
 * From the picture's px to the form: turned so that its axis lies straight, scaled by the two points.
 * @returns the six numbers of an SVG matrix whose result is (x mm along the axis, r mm away from it, upward negative); undefined
 * if the points do not tell a scale
 */
export function toForm({ a, b }: Pick<Photo, 'a' | 'b'>): [number, number, number, number, number, number] | undefined {
  const dx = b.px - a.px;
  const dy = b.py - a.py;
  const far = dx * dx + dy * dy;
  const along = b.x - a.x;
  if (far < 1 || Math.abs(along) < 1e-9) return undefined;
  // Rotation and scale as one complex number: (b.x − a.x) / (dx + i·dy).
  const c = (along * dx) / far;
  const s = (-along * dy) / far;
  return [c, s, -s, c, a.x - (c * a.px - s * a.py), -(s * a.px + c * a.py)];
}
