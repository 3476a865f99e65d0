/** A part document from a file: read, checked, or one problem for each thing that is wrong. */
import { readFileSync } from 'node:fs';
import type { Problem } from '../../shared/problems.ts';
import { type PartResult, parsePart } from '../part.ts';

/** Larger files are no part documents; they would only fill the memory. */
const LARGEST = 20_000_000;

/** @returns the part, or what is wrong */
export function readPart(file: string): PartResult {
  const read = readText(file, 'part document');
  return 'text' in read ? parsePart(read.text) : read;
}

/** @param what the file should be @returns its text in UTF-8, or what is wrong */
export function readText(file: string, what: string): { text: string } | { problems: Problem[] } {
  const unreadable = (message: string, allowed: string): { problems: Problem[] } => ({
    problems: [{ code: 'unreadable', severity: 'refuse', path: file, message, allowed }],
  });
  let bytes: Buffer;
  try {
    bytes = readFileSync(file);
  } catch (fault) {
    const code = (fault as NodeJS.ErrnoException).code;
    if (code === 'ENOENT') return unreadable('there is no such file', `the path of a ${what}`);
    if (code === 'EISDIR') return unreadable('this is a folder', 'the path of a part document');
    return unreadable(`it cannot be read (${code ?? String(fault)})`, 'a file that you may read');
  }
  if (bytes.length > LARGEST) return unreadable(`it is too large for a ${what}`, `up to ${LARGEST} bytes`);
  let text: string;
  try {
    text = new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return unreadable('it is not a text in UTF-8', `a ${what}`);
  }
  return { text };
}
