/** Runs every bench beside it, one after another. Run: `npm run bench`. */
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';

for (const name of readdirSync(import.meta.dirname).sort())
  if (name.endsWith('.bench.ts')) {
    console.log(`\n${name}`);
    await import(pathToFileURL(join(import.meta.dirname, name)).href);
  }
