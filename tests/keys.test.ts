/** The README tells every carving and every element with all its keys, in the schema's own words. */
import { describe, expect, test } from 'vitest';
import { carvingKinds } from '../src/profiles/carvings/registry.ts';
import { elementKinds } from '../src/profiles/elements/registry.ts';
import { keyTables, written } from './key-table.ts';

describe.each([
  ['carvings', 'carving', carvingKinds],
  ['elements', 'element', elementKinds],
] as const)('the list of %s', (name, tag, kinds) => {
  test('in the README is what the schema says: npm run keys', () => {
    expect(written(name)).toBe(keyTables()[name]);
  });

  test('has a row for each, with every key in the row or above the table', () => {
    const [above, ...rows] = written(name)!.split('| --- |');
    for (const { kind, schema } of kinds) {
      const row = rows
        .join('')
        .split('\n')
        .find((l) => l.startsWith(`| \`${kind}\` `));
      expect(row, kind).toBeDefined();
      for (const key of Object.keys(schema.shape).filter((k) => k !== tag))
        expect((row! + above).includes(`\`${key}\``), `${kind}.${key}`).toBe(true);
    }
  });
});
