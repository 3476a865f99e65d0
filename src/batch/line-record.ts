/** What is kept of a made variant beside its files, so that it need not be made again; and the list of all that a line has. */
import { z } from 'zod';
import { VERSION } from '../build/version.ts';
import type { MadeVariant } from './line.ts';

// A record may come from another machine's folder: a file of it stands in the variant's folder and nowhere else.
const fileSchema = z.strictObject({
  file: z.string().regex(/^[A-Za-z0-9][A-Za-z0-9._-]*$/),
  sha256: z.string().length(64),
});
/** A file and the SHA-256 of its bytes, hexadecimal. */
export type FileHash = z.infer<typeof fileSchema>;

// Problems are this program's own data, written and read by the same one: what else they carry is kept as it is.
const problemSchema = z.looseObject({
  code: z.string(),
  severity: z.enum(['refuse', 'warn', 'note']),
  path: z.string(),
  message: z.string(),
});

/** A record, `made/<slug>.json`. It tells no time of day and no duration: the same inputs give the same bytes. */
export const recordSchema = z.strictObject({
  cavetto: z.string(),
  name: z.string(),
  slug: z.string(),
  /** Hash of everything that the files follow from: document, catalogs, program. */
  key: z.string().length(64),
  verdict: z.enum(['proven', 'refused', 'invalid']),
  problems: z.array(problemSchema),
  silhouette: z.array(z.tuple([z.number(), z.number()])),
  /** In the variant's folder, by name. */
  files: z.array(fileSchema),
});
export type VariantRecord = z.infer<typeof recordSchema>;

/** @param key of the variant's inputs @param files of its folder with their hashes */
export function recordText(made: Omit<MadeVariant, 'seconds'>, key: string, files: readonly FileHash[]): string {
  const { variant, verdict, problems, silhouette } = made;
  const record = {
    cavetto: VERSION,
    name: variant.name,
    slug: variant.slug,
    key,
    verdict,
    problems,
    silhouette,
    files,
  };
  // What is written must be readable: a record that is not would be met as a variant never made.
  recordSchema.parse(record);
  return `${JSON.stringify(record)}\n`;
}

/** One row of the manifest. */
export interface ManifestVariant {
  readonly made: MadeVariant;
  readonly record: VariantRecord;
}

/**
 * The manifest: every variant of the line and every file of its folder with its hash. It is written last, so that where
 * it stands the folder is whole.
 * @param name of the line's design @param files of the line beside its variants'
 */
export function manifestText(name: string, variants: readonly ManifestVariant[], files: readonly FileHash[]): string {
  const manifest = {
    cavetto: VERSION,
    line: name,
    variants: variants.map(({ made: { variant }, record }) => ({
      name: variant.name,
      quantity: variant.quantity,
      knobs: variant.knobs,
      verdict: record.verdict,
      key: record.key,
      folder: variant.slug,
      files: record.files,
    })),
    files,
  };
  return `${JSON.stringify(manifest, null, 2)}\n`;
}
