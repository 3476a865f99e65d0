/** A whole document inside a link: compressed, then written in the letters that a link may hold. Pure. */
import { deflateSync, inflateSync, strFromU8, strToU8 } from 'fflate';

/** What stands before it in the hash. */
export const LINK_WORD = '#part=';
/** Inflated, nothing of ours is larger: a link cannot be made to fill the memory. */
const LARGEST = 2_000_000;

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
    return strFromU8(inflateSync(bytes, { out: new Uint8Array(LARGEST) }));
  } catch {
    return undefined;
  }
}
