/** Every template is a whole, sensible document. That each builds and is proven is shown bench by bench, in `templates/`. */
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { benches, controls } from '../../shared/catalog.ts';
import { templates } from '../support/templates.ts';

test('there are templates for every section of blank, every bench and every control', () => {
  const all = [...templates().values()];
  expect(all.length).toBeGreaterThanOrEqual(16);
  expect(new Set(all.map((p) => p.blank.section))).toEqual(new Set(['square', 'rectangle', 'polygon', 'round']));
  expect(all.some((p) => p.blank.section === 'polygon' && p.blank.sides === 8)).toBe(true);
  expect(new Set(all.map((p) => p.bench))).toEqual(new Set(benches.map((b) => b.id)));
  expect(new Set(all.map((p) => p.control))).toEqual(new Set(controls.map((c) => c.id)));
});

test('every bench has its file of proofs, so that no template is left out', () => {
  const files = readdirSync(join(import.meta.dirname, 'templates')).sort();
  expect(files).toEqual(benches.map((b) => `${b.id}.test.ts`).sort());
});
