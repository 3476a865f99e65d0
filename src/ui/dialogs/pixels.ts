/** The pixels of a photograph, no more of them than an outline needs. */
import type { Photo } from './photo.ts';
import type { Pixels } from './silhouette.ts';

/** Broader pictures are taken smaller, px. */
const BROADEST = 2400;

/** @returns its pixels, and their scale: px of them in one px of the picture */
export async function pixelsOf(
  photo: Pick<Photo, 'url' | 'width' | 'height'>,
): Promise<{ pixels: Pixels; share: number }> {
  const picture = new Image();
  picture.src = photo.url;
  await picture.decode();
  const share = Math.min(1, BROADEST / Math.max(photo.width, photo.height));
  const [width, height] = [Math.round(photo.width * share), Math.round(photo.height * share)];
  const canvas = new OffscreenCanvas(width, height);
  const ink = canvas.getContext('2d', { willReadFrequently: true })!;
  ink.drawImage(picture, 0, 0, width, height);
  return { pixels: ink.getImageData(0, 0, width, height), share };
}
