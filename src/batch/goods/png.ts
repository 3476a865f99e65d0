/** Pictures with a palette as PNG files (W3C, Portable Network Graphics, colour type 3, no filter). Same pixels, same bytes. */
import { zlibSync } from 'fflate';

/** A row of the palette: red, green, blue, alpha, 0…255. */
export type Rgba = readonly [number, number, number, number];

const SIGNATURE = [137, 80, 78, 71, 13, 10, 26, 10];

/** CRC-32 of ISO 3309 (reflected polynomial 0xEDB88320), as the PNG specification's annex gives it. */
function crc(bytes: Uint8Array): number {
  let c = 0xffffffff;
  for (const byte of bytes) {
    c ^= byte;
    for (let k = 0; k < 8; k++) c = c & 1 ? (c >>> 1) ^ 0xedb88320 : c >>> 1;
  }
  return (c ^ 0xffffffff) >>> 0;
}

function chunk(name: string, body: Uint8Array): Uint8Array {
  const out = new Uint8Array(12 + body.length);
  const view = new DataView(out.buffer);
  view.setUint32(0, body.length);
  for (let i = 0; i < 4; i++) out[4 + i] = name.charCodeAt(i);
  out.set(body, 8);
  view.setUint32(8 + body.length, crc(out.subarray(4, 8 + body.length)));
  return out;
}

/** @param pixels indices into the palette, row by row from the top @param palette at most 256 colours @returns the file */
export function pngOf(width: number, height: number, pixels: Uint8Array, palette: readonly Rgba[]): Uint8Array {
  const head = new Uint8Array(13);
  const view = new DataView(head.buffer);
  view.setUint32(0, width);
  view.setUint32(4, height);
  head.set([8, 3, 0, 0, 0], 8);
  const lines = new Uint8Array(height * (width + 1));
  for (let y = 0; y < height; y++) lines.set(pixels.subarray(y * width, (y + 1) * width), y * (width + 1) + 1);
  const parts = [
    Uint8Array.from(SIGNATURE),
    chunk('IHDR', head),
    chunk('PLTE', Uint8Array.from(palette.flatMap((p) => p.slice(0, 3)))),
    chunk('tRNS', Uint8Array.from(palette.map((p) => p[3]))),
    chunk('IDAT', zlibSync(lines, { level: 9 })),
    chunk('IEND', new Uint8Array()),
  ];
  const out = new Uint8Array(parts.reduce((n, p) => n + p.length, 0));
  let at = 0;
  for (const p of parts) {
    out.set(p, at);
    at += p.length;
  }
  return out;
}

/** @returns the file as an address that a page carries in itself */
export function dataAddress(png: Uint8Array): string {
  let letters = '';
  for (const byte of png) letters += String.fromCharCode(byte);
  return `data:image/png;base64,${btoa(letters)}`;
}
