/** Names of variants and of the folders that they become: one for each, none of them a way out of the output folder. */
import { slugOf } from '../build/slug.ts';

/**
 * Names that stand for devices on some systems, whatever their ending ("Naming Files, Paths, and Namespaces", Microsoft's
 * documentation of its file systems), and the folder of records that a line has beside its variants'.
 */
const RESERVED = /^(con|prn|aux|nul|com\d|lpt\d|made)$/;

/** @returns why no folder can be called so; undefined if one can */
export function wrongName(name: string): { message: string; allowed: string } | undefined {
  if (name === '') return { message: 'the variant has no name', allowed: 'a name for each variant' };
  if (/[\n\t]/.test(name)) return { message: 'a name is one line', allowed: 'a name without line breaks and tabs' };
  if (!/[a-z0-9ß]/i.test(name.normalize('NFKD')))
    return {
      message: `"${name}" has no letter or digit that a file can be named for`,
      allowed: 'at least one of A to Z or 0 to 9',
    };
  if (RESERVED.test(slugOf(name)))
    return { message: `no folder may be called "${slugOf(name)}"`, allowed: 'a longer name' };
  return undefined;
}
