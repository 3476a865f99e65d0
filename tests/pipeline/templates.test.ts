/** Every template is a whole, sensible document that builds and is proven. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { benches, controls } from '../../shared/catalog.ts';
import { build } from '../../src/build.ts';
import { type Part, parsePart } from '../../src/part.ts';
import { refusals } from '../support/built.ts';

const folder = join(import.meta.dirname, '..', '..', 'templates');
const parts = new Map<string, Part>(
  readdirSync(folder).map((file) => {
    const parsed = parsePart(readFileSync(join(folder, file), 'utf8'));
    if (!('part' in parsed)) throw new Error(`${file}: ${JSON.stringify(parsed.problems)}`);
    return [file.replace('.part.json', ''), parsed.part];
  }),
);

test('there are templates for every section of blank, every bench and every control', () => {
  expect(parts.size).toBeGreaterThanOrEqual(16);
  const all = [...parts.values()];
  expect(new Set(all.map((p) => p.blank.section))).toEqual(new Set(['square', 'rectangle', 'polygon', 'round']));
  expect(all.some((p) => p.blank.section === 'polygon' && p.blank.sides === 8)).toBe(true);
  expect(new Set(all.map((p) => p.bench))).toEqual(new Set(benches.map((b) => b.id)));
  expect(new Set(all.map((p) => p.control))).toEqual(new Set(controls.map((c) => c.id)));
});

test.each([...parts.keys()])(
  '%s is proven, gouges no deeper than its tolerance, and no plan is quicker than physics allows',
  async (name) => {
    const built = await build(parts.get(name)!, { solid: 'none' });
    expect(refusals(built)).toEqual([]);
    expect(built.verdict).toBe('proven');
    const { proof, time } = built.report!;
    expect(proof.deepestGouge).toBeLessThanOrEqual(0.03);
    expect(time.bound_s).toBeGreaterThan(0);
    expect(time.efficiency).toBeLessThanOrEqual(1);
    expect(time.efficiency).toBeGreaterThan(0);
    // Corners are mostly wood, not air: at most a quarter of their time cuts nothing.
    const corners = built.proof!.stages.filter((s) => s.stage === 'corners');
    expect(corners.length > 0).toBe(parts.get(name)!.blank.section !== 'round');
    for (const c of corners) expect(c.air_s / c.time_s).toBeLessThanOrEqual(0.25);
  },
  300_000,
);
