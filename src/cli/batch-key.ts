/** Whether a variant is what it was: one hash of everything that its files follow from. */
import { createHash } from 'node:crypto';
import { keyText } from '../batch/line-record.ts';
import type { Part } from '../part.ts';

export const sha256 = (content: string | Uint8Array): string => createHash('sha256').update(content).digest('hex');

/** @param program from `programHash` @returns the key of a variant of this part */
export const keyOf = (part: Part, program: string): string => sha256(keyText(part, program));
