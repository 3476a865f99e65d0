/** Compares two pictures pixel by pixel, in an empty page of the browser, which decodes them. */
import type { Page } from 'playwright';

/** A channel that differs by no more than this is the same to the eye, levels of 256. */
export const SAME_LEVELS = 24;

/** @param a, b PNGs @returns share of the pixels in which a channel differs by more than `SAME_LEVELS`; 1 where their sizes differ */
export function differing(a: Buffer, b: Buffer, looker: Page): Promise<number> {
  return looker.evaluate(
    async ([one, two, same]) => {
      const pixels = async (png: string) => {
        const image = await createImageBitmap(await (await fetch(`data:image/png;base64,${png}`)).blob());
        const ink = new OffscreenCanvas(image.width, image.height).getContext('2d')!;
        ink.drawImage(image, 0, 0);
        return ink.getImageData(0, 0, image.width, image.height);
      };
      const [p, q] = [await pixels(one), await pixels(two)];
      if (p.width !== q.width || p.height !== q.height) return 1;
      let count = 0;
      for (let i = 0; i < p.data.length; i += 4)
        if ([0, 1, 2].some((c) => Math.abs(p.data[i + c]! - q.data[i + c]!) > same)) count++;
      return count / (p.data.length / 4);
    },
    [a.toString('base64'), b.toString('base64'), SAME_LEVELS] as const,
  );
}
