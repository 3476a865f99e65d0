import { readFileSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import { expect, test } from 'vitest';
import { keyOf } from '../../src/cli/batch-key.ts';
import { DECIDING, programHash } from '../../src/cli/program-hash.ts';
import { checkPart, type Part } from '../../src/part.ts';

const root = resolve(import.meta.dirname, '../..');
const peg = (more: object): Part => {
  const result = checkPart({ form: [{ element: 'cylinder', length: 30, start: 16 }], ...more });
  if ('problems' in result) throw new Error(JSON.stringify(result.problems));
  return result.part;
};

test('every source that a variant is made with decides about its key', () => {
  const seen = new Set<string>();
  const visit = (file: string): void => {
    if (seen.has(file)) return;
    seen.add(file);
    if (!/\.ts$/.test(file)) return;
    for (const [, spec] of readFileSync(join(root, file), 'utf8').matchAll(
      /(?:import|export)\s+(?!type\b)[^;]*?from\s*'(\.[^']+)'/g,
    ))
      visit(relative(root, resolve(root, dirname(file), spec!)));
  };
  visit('src/batch/make-variant.ts');
  visit('src/batch/line-record.ts');
  expect(seen.size).toBeGreaterThan(100);
  expect([...seen].filter((f) => !DECIDING.some((d) => f === d || f.startsWith(`${d}/`)))).toEqual([]);
});

test('a key changes with the document and with the program, and with nothing else', () => {
  const program = programHash();
  expect(program).toMatch(/^[0-9a-f]{64}$/);
  expect(programHash()).toBe(program);
  expect(keyOf(peg({}), program)).toBe(keyOf(peg({}), program));
  expect(keyOf(peg({ tolerance: 0.031 }), program)).not.toBe(keyOf(peg({}), program));
  expect(keyOf(peg({ name: 'Other' }), program)).not.toBe(keyOf(peg({}), program));
  expect(
    keyOf(
      peg({}),
      program.replace(/./, (c) => (c === '0' ? '1' : '0')),
    ),
  ).not.toBe(keyOf(peg({}), program));
});
