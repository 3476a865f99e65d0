/** Looks at what is drawn, pixel by pixel, in an empty page of the same browser: the page under test decodes nothing for it. */
import type { Locator, Page } from 'playwright';

/** Sorts of ink that a picture may hold: of a stage in the light, wood is brown, a bit's cutting length green. */
const INKS = {
  wood: '(r, g, b) => r > g && g > b && r - b > 45 && r > 60',
  bit: '(r, g, b) => g > r + 25 && g > b',
} as const;

/** @param what is looked at @param ink wanted @returns how many of its pixels are of that ink */
export async function inked(what: Locator, ink: keyof typeof INKS, looker: Page): Promise<number> {
  const picture = (await what.screenshot()).toString('base64');
  return looker.evaluate(
    async ([data, test]) => {
      const is = new Function(`return ${test}`)() as (r: number, g: number, b: number) => boolean;
      const image = await createImageBitmap(await (await fetch(`data:image/png;base64,${data}`)).blob());
      const canvas = new OffscreenCanvas(image.width, image.height);
      const drawing = canvas.getContext('2d')!;
      drawing.drawImage(image, 0, 0);
      const { data: px } = drawing.getImageData(0, 0, image.width, image.height);
      let found = 0;
      for (let i = 0; i < px.length; i += 4) if (is(px[i]!, px[i + 1]!, px[i + 2]!)) found++;
      return found;
    },
    [picture, INKS[ink]] as const,
  );
}
