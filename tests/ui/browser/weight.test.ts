/** What a browser must have before the page can be painted: the page, its styles, its script and all that imports at once. */
import { gzipSync } from 'node:zlib';
import { expect, inject, test } from 'vitest';

/** The bound that the project sets itself, bytes of gzip. */
const MOST = 350_000;

test('the first paint takes at most 350 kB, and the stage, the sliders and the kernels come after it', async () => {
  const sizes = new Map<string, number>();
  const take = async (url: URL): Promise<void> => {
    if (sizes.has(url.pathname)) return;
    sizes.set(url.pathname, 0);
    const text = await (await fetch(url)).text();
    sizes.set(url.pathname, gzipSync(text).length);
    const pattern = url.pathname.endsWith('.js')
      ? /(?:from|\bimport)\s*["'](\.[^"']+\.js)["']/g
      : /(?:src|href)="(\.[^"]+\.(?:js|css))"/g;
    for (const [, next] of text.matchAll(pattern)) await take(new URL(next!, url));
  };
  await take(new URL(inject('address')));
  const names = [...sizes.keys()].join(' ');
  expect(names).toMatch(/\.js.*\.css|\.css.*\.js/);
  expect(names).not.toMatch(/Stage|Panel|worker|wasm/);
  const total = [...sizes.values()].reduce((sum, size) => sum + size, 0);
  expect(total).toBeGreaterThan(50_000);
  expect(total, JSON.stringify([...sizes])).toBeLessThan(MOST);
});
