/** The folder that files are written to, as typed. */
import { InvalidArgumentError } from 'commander';

/** @param text of `--out` @returns the same @throws InvalidArgumentError if nothing is in it: an unset variable must not mean here */
export function folderOf(text: string): string {
  if (!text.trim()) throw new InvalidArgumentError('the name of a folder is wanted; . is the one you are in.');
  return text;
}
