/** The published JSON Schema of the part document, generated from the one schema that checks it. */
import { z } from 'zod';
import type { FieldMeta } from '../../shared/schema.ts';
import { partSchema } from './document.ts';
import { isLength } from './inch.ts';

/** Words of our metadata that JSON Schema says otherwise or does not know. */
const OWN_WORDS = ['label', 'unit', 'min', 'max', 'step'];

/**
 * The text of `shared/part.schema.json` (JSON Schema, draft 2020-12): labels become titles; units and limits go into the
 * descriptions. Limits of lengths are in mm, and an inch document has smaller numbers: their lower ends are left to the program.
 */
export function partJsonSchema(): string {
  const schema = z.toJSONSchema(partSchema, {
    io: 'input',
    override: ({ jsonSchema }) => {
      const words = jsonSchema as Record<string, unknown>;
      const { label, unit, description, min, max } = words as Partial<FieldMeta>;
      if (label) words.title = label;
      if (unit && description && min !== undefined && max !== undefined) {
        const inches = isLength(unit) ? `; inches where "units" is "inch"` : '';
        words.description = `${description.replace(/\.$/, '')}. ${min} to ${max}${UNITLESS.includes(unit) ? '' : ` ${unit}`}${inches}.`;
        if (isLength(unit) && min > 0) {
          delete words.minimum;
          words.exclusiveMinimum = 0;
        }
      }
      for (const word of OWN_WORDS) delete words[word];
    },
  });
  return `${JSON.stringify(schema, null, 2)}\n`;
}

const UNITLESS = ['count', 'ratio', 'money'];
