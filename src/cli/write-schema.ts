/** Writes shared/part.schema.json anew: `npm run schema`. */
import { writeFileSync } from 'node:fs';
import { partJsonSchema } from '../part/json-schema.ts';

writeFileSync(new URL('../../shared/part.schema.json', import.meta.url), partJsonSchema());
