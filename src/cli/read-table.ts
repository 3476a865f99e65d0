/** The text of a table from a file, or why it cannot be had. */
import { readFileSync } from 'node:fs';
import type { Problem } from '../../shared/problems.ts';

/** Larger files are no tables of variants; they would only fill the memory. */
const LARGEST = 20_000_000;

export function readTable(file: string): { text: string } | { problem: Problem } {
  const wrong = (message: string, allowed: string): { problem: Problem } => ({
    problem: { code: 'unreadable', severity: 'refuse', path: file, message, allowed },
  });
  let bytes: Buffer;
  try {
    bytes = readFileSync(file);
  } catch (fault) {
    const code = (fault as NodeJS.ErrnoException).code;
    if (code === 'ENOENT') return wrong('there is no such file', 'the path of a table in CSV');
    if (code === 'EISDIR') return wrong('this is a folder', 'the path of a table in CSV');
    return wrong(`it cannot be read (${code ?? String(fault)})`, 'a file that you may read');
  }
  if (bytes.length > LARGEST) return wrong('it is too large for a table of variants', `up to ${LARGEST} bytes`);
  const [first, second] = bytes;
  if ((first === 0xff && second === 0xfe) || (first === 0xfe && second === 0xff))
    return wrong('it is a text in UTF-16', 'save it as CSV in UTF-8');
  try {
    // The mark that may stand in front is for the table's reader, which says that it is there.
    return { text: new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes) };
  } catch {
    return wrong('it is not a text in UTF-8', 'save it as CSV in UTF-8');
  }
}
