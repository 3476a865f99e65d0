/** A whole document inside a link: compressed, then written in the letters that a link may hold. Pure. */
import { deflateSync, Inflate, strFromU8, strToU8 } from 'fflate';

/** What stands before it in the hash. */
export const LINK_WORD = '#part=';
/** Inflated, nothing of ours is larger: a link cannot be made to fill the memory. */
const LARGEST = 2_000_000;
/** Fed in pieces of this, bytes: deflate grows none of them by more than about a thousand times (RFC 1951, a match of 258 in two bits). */
const PIECE = 1024;

function inflated(bytes: Uint8Array): Uint8Array {
  const chunks: Uint8Array[] = [];
  let size = 0;
  let whole = false;
  const inflate = new Inflate((chunk, final) => {
    size += chunk.length;
    whole ||= final;
    chunks.push(chunk);
  });
  for (let i = 0; i < bytes.length; i += PIECE) {
    inflate.push(bytes.subarray(i, i + PIECE), i + PIECE >= bytes.length);
    if (size > LARGEST) throw new Error('too large');
  }
  if (!whole) throw new Error('cut short');
  const out = new Uint8Array(size);
  let at = 0;
  for (const chunk of chunks) {
    out.set(chunk, at);
    at += chunk.length;
  }
  return out;
}

/** @param text of a document @returns base64url (RFC 4648 §5), without padding */
export function packed(text: string): string {
  let letters = '';
  for (const byte of deflateSync(strToU8(text), { level: 9 })) letters += String.fromCharCode(byte);
  return btoa(letters).replaceAll('+', '-').replaceAll('/', '_').replace(/=+$/, '');
}

/** @returns the text, or undefined if it is none of ours */
export function unpacked(letters: string): string | undefined {
  try {
    const plain = atob(letters.replaceAll('-', '+').replaceAll('_', '/'));
    const bytes = Uint8Array.from(plain, (c) => c.charCodeAt(0));
    return strFromU8(inflated(bytes));
  } catch {
    return undefined;
  }
}
