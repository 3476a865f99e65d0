/** The one place where a schema's issues become sentences: what is wrong at which path, and what is allowed there. */
import type { z } from 'zod';
import type { Problem } from '../../shared/problems.ts';
import { type FieldMeta, metaOf } from '../../shared/schema.ts';
import { isLength, shown } from './inch.ts';
import { nearest } from './nearest.ts';
import { pathText } from './place.ts';
import { choicesOf, decided, knownKeys, schemaAt, typeOf, valueAt } from './walk.ts';

type Issue = z.core.$ZodIssue;
type Path = readonly PropertyKey[];

const UNIT_NAMES: Record<string, string> = { deg: '°', count: '', ratio: '', percent: ' %', money: '' };
const TYPE_NAMES: Record<string, string> = {
  object: 'a group in braces',
  array: 'a list in brackets',
  tuple: 'a list in brackets',
  union: 'an id in double quotes or a whole row in braces',
  string: 'a text in double quotes',
  boolean: 'true or false',
  number: 'a number',
};

/** How a value is quoted in a sentence. */
function quoted(value: unknown): string {
  if (value === undefined) return 'nothing';
  if (value === null) return 'null';
  if (Array.isArray(value)) return 'a list';
  if (typeof value === 'object') return 'a group';
  if (typeof value === 'string') return value.length > 40 ? `"${value.slice(0, 37)}…"` : `"${value}"`;
  return String(value);
}

/** The unit as it stands behind a number. */
function unitText(meta: FieldMeta | undefined, inch: boolean): string {
  const unit = meta?.unit;
  if (!unit) return '';
  if (isLength(unit) && inch) return unit === 'mm' ? ' in' : ' in/min';
  return UNIT_NAMES[unit] ?? ` ${unit}`;
}

/** What a place takes, in one phrase, with the reason that its declaration gives. */
function allowedAt(schema: z.ZodType | undefined, value: unknown, inch: boolean): string {
  if (!schema) return '';
  const at = decided(schema, value) ?? schema;
  const meta = metaOf(at) ?? metaOf(schema);
  const why = meta?.description ? `: ${meta.description.replace(/\.$/, '')}` : '';
  const choices = choicesOf(at);
  if (choices.length) return `one of ${choices.join(', ')}${why}`;
  if (meta?.min !== undefined && meta.max !== undefined) {
    const length = meta.unit !== undefined && isLength(meta.unit);
    const limit = (v: number) => (length ? shown(v, inch) : v);
    const what = meta.unit === 'count' ? 'a whole number from ' : '';
    return `${what}${limit(meta.min)} to ${limit(meta.max)}${unitText(meta, inch)}${why}`;
  }
  return `${TYPE_NAMES[typeOf(at)] ?? meta?.label ?? 'another value'}${why}`;
}

/** Issues of the alternatives of a union, brought down to the one that the value means. */
function flatten(issue: Issue, prefix: Path): Issue[] {
  const own = { ...issue, path: [...prefix, ...issue.path] } as Issue;
  if (issue.code !== 'invalid_union' || !issue.errors.length) return [own];
  const deep = issue.errors.find((list) => list.some((i) => i.path.length > 0));
  return deep ? deep.flatMap((i) => flatten(i as Issue, own.path)) : [own];
}

const problem = (code: Problem['code'], path: Path, message: string, allowed: string): Problem => ({
  code,
  severity: 'refuse',
  path: pathText(path),
  message,
  ...(allowed ? { allowed } : {}),
});

/**
 * Translates the issues of a refused document.
 * @param root the document's schema @param issues as zod gives them @param value what was parsed, lengths in mm
 * @param written the same as the person wrote it (inches in an inch document) @param inch whether it is an inch document
 * @returns one problem for each thing that is wrong, in the document's own units
 */
export function problemsOf(
  root: z.ZodType,
  issues: readonly Issue[],
  value: unknown,
  written: unknown,
  inch: boolean,
): Problem[] {
  return issues.flatMap((whole) =>
    flatten(whole, []).flatMap((issue) => {
      const schema = schemaAt(root, value, issue.path);
      const got = valueAt(written, issue.path);
      if (issue.code === 'unrecognized_keys') {
        const known = knownKeys(schema ?? root, valueAt(value, issue.path));
        return issue.keys.map((key) => {
          const meant = nearest(key, known);
          const allowed = meant ? `did you mean "${meant}"?` : `known here: ${known.join(', ')}`;
          return problem('unknown-key', [...issue.path, key], `the key "${key}" is not known here`, allowed);
        });
      }
      if (issue.code === 'invalid_union' && issue.discriminator) {
        // zod lists the discriminator's values beside the issue, though its type does not say so.
        const names = ((issue as unknown as { options?: unknown[] }).options ?? []).map(String);
        const meant = typeof got === 'string' ? nearest(got, names) : undefined;
        const message = got === undefined ? 'is missing' : `${quoted(got)} is not known`;
        return [
          problem(
            'unknown-name',
            issue.path,
            message,
            meant ? `did you mean "${meant}"?` : `one of ${names.join(', ')}`,
          ),
        ];
      }
      const allowed = allowedAt(schema, valueAt(value, issue.path), inch);
      const meta = schema && metaOf(schema);
      const unit = typeof got === 'number' ? unitText(meta, inch) : '';
      switch (issue.code) {
        case 'too_small':
        case 'too_big': {
          const counted = Array.isArray(got) || typeof got === 'string';
          if (counted) {
            const bound = issue.code === 'too_small' ? `at least ${issue.minimum}` : `at most ${issue.maximum}`;
            const size = (got as { length: number }).length;
            const things = Array.isArray(got) ? 'entries' : 'characters';
            return [problem('out-of-limits', issue.path, `has ${size} ${things}`, `${bound}; ${allowed}`)];
          }
          if (typeof got === 'number' && !Number.isFinite(got))
            return [problem('out-of-limits', issue.path, `${got} is no finite number`, allowed)];
          const way = issue.code === 'too_small' ? 'small' : 'large';
          return [problem('out-of-limits', issue.path, `${quoted(got)}${unit} is too ${way}`, allowed)];
        }
        case 'invalid_value': {
          const names = issue.values.map(String);
          const meant = typeof got === 'string' ? nearest(got, names) : undefined;
          const hint = meant ? `did you mean "${meant}"? ${allowed}` : allowed || `one of ${names.join(', ')}`;
          return [
            problem('unknown-name', issue.path, got === undefined ? 'is missing' : `${quoted(got)} is not known`, hint),
          ];
        }
        case 'invalid_format':
          if (typeof got === 'string' && !got.trim())
            return [problem('wrong-shape', issue.path, 'has nothing but spaces in it', allowed)];
          return [problem('wrong-shape', issue.path, `${quoted(got)} is not what belongs here`, allowed)];
        case 'custom':
          return [problem('wrong-shape', issue.path, issue.message, allowed)];
        default: {
          if (got === undefined && issue.path.length)
            return [problem('wrong-shape', issue.path, 'is missing', allowed)];
          if (typeof got === 'number' && !Number.isFinite(got))
            return [problem('wrong-shape', issue.path, `${got} is no finite number`, allowed)];
          return [problem('wrong-shape', issue.path, `${quoted(got)} is not what belongs here`, allowed)];
        }
      }
    }),
  );
}
