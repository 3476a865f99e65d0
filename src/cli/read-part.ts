/** A part document from a file: read, checked, or one problem for each thing that is wrong. */
import { readFileSync } from 'node:fs';
import type { Problem } from '../../shared/problems.ts';
import { type PartResult, parsePart } from '../part.ts';

/** Larger files are no part documents; they would only fill the memory. */
const LARGEST = 20_000_000;

export function readPart(file: string): PartResult {
  const unreadable = (message: string, allowed: string): { problems: Problem[] } => ({
    problems: [{ code: 'unreadable', severity: 'refuse', path: file, message, allowed }],
  });
  let bytes: Buffer;
  try {
    bytes = readFileSync(file);
  } catch (fault) {
    const code = (fault as NodeJS.ErrnoException).code;
    if (code === 'ENOENT') return unreadable('there is no such file', 'the path of a part document');
    if (code === 'EISDIR') return unreadable('this is a folder', 'the path of a part document');
    return unreadable(`it cannot be read (${code ?? String(fault)})`, 'a file that you may read');
  }
  if (bytes.length > LARGEST) return unreadable('it is too large for a part document', `up to ${LARGEST} bytes`);
  let text: string;
  try {
    text = new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return unreadable('it is not a text in UTF-8', 'a part document');
  }
  return parsePart(text);
}
