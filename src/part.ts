/** Part documents: text in, a checked part or one clear problem for each thing that is wrong out. */
import type { Problem } from '../shared/problems.ts';
import { type Part, partSchema } from './part/document.ts';
import { readJson } from './part/json.ts';
import { type Knob, readKnobs } from './part/knobs.ts';
import { documentToInches, documentToMm } from './part/lengths.ts';
import { CURRENT, type Migrations, migrate, migrations } from './part/migrate.ts';
import { problemsOf } from './part/problems.ts';

export { type Part, partSchema } from './part/document.ts';

export type PartResult = { part: Part } | { problems: Problem[] };

const refuse = (code: Problem['code'], path: string, message: string, allowed: string): { problems: Problem[] } => ({
  problems: [{ code, severity: 'refuse', path, message, allowed }],
});

/**
 * Checks a document that is already data (from an editor or a table of variants).
 * @param raw lengths in the document's own units @param table older versions' migrations
 * @returns the part with defaults filled and lengths in mm, or what is wrong in the document's own units
 */
export function checkPart(raw: unknown, table: Migrations = migrations): PartResult {
  if (typeof raw !== 'object' || raw === null || Array.isArray(raw))
    return refuse('wrong-shape', '', 'a part document is a group in braces', 'for instance { "form": [ … ] }');
  const current = migrate(raw as Record<string, unknown>, table);
  if ('unknownVersion' in current)
    return refuse(
      'unknown-name',
      'cavetto',
      `version ${JSON.stringify(current.unknownVersion)} is not known`,
      `up to ${CURRENT}; a newer document needs a newer program`,
    );
  const written = current.document;
  const inch = written.units === 'inch';
  const value = inch ? documentToMm(written) : written;
  const result = partSchema.safeParse(value);
  if (!result.success) return { problems: problemsOf(partSchema, result.error.issues, value, written, inch) };
  const { problems } = readKnobs(partSchema, result.data, result.data.knobs ?? [], inch);
  return problems.length ? { problems } : { part: result.data };
}

/** The knobs of a checked part, with what follows from their places; lengths in mm. */
export const knobsOf = (part: Part): Knob[] =>
  readKnobs(partSchema, part, part.knobs ?? [], part.units === 'inch').knobs;

/** Reads the text of a part document. @param text JSON @returns the part, or one problem for each thing that is wrong */
export function parsePart(text: string, table: Migrations = migrations): PartResult {
  const json = readJson(text);
  if ('value' in json) return checkPart(json.value, table);
  return refuse(
    'not-json',
    '',
    `this is not JSON: line ${json.line}, column ${json.column}: ${json.message}`,
    'JSON as RFC 8259 has it',
  );
}

/** The text of a document for a part: every field written out, lengths in its own units. Inverse of `parsePart`. */
export function writePart(part: Part): string {
  const value = part.units === 'inch' ? documentToInches(part) : part;
  return `${JSON.stringify(value, null, 2)}\n`;
}
