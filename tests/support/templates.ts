/** The templates as documents that have been read, and what each of them must show when it is built. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { build } from '../../src/build.ts';
import { type Part, parsePart } from '../../src/part.ts';
import { refusals } from './built.ts';

const folder = join(import.meta.dirname, '..', '..', 'templates');

/** @returns all templates by name @throws Error for a document that cannot be read */
export const templates = (): Map<string, Part> =>
  new Map(
    readdirSync(folder).map((file) => {
      const parsed = parsePart(readFileSync(join(folder, file), 'utf8'));
      if (!('part' in parsed)) throw new Error(`${file}: ${JSON.stringify(parsed.problems)}`);
      return [file.replace('.part.json', ''), parsed.part];
    }),
  );

/** A test for each template of a bench. All of them in one file would take one worker for minutes after the others are done. */
export function provenOn(bench: Part['bench']): void {
  const parts = [...templates()].filter(([, part]) => part.bench === bench);
  test.each(parts)(
    '%s is proven, gouges no deeper than its tolerance, and no plan is quicker than physics allows',
    async (_name, part) => {
      const built = await build(part, { solid: 'none' });
      expect(refusals(built)).toEqual([]);
      expect(built.verdict).toBe('proven');
      const { proof, time } = built.report!;
      expect(proof.deepestGouge).toBeLessThanOrEqual(0.03);
      expect(time.bound_s).toBeGreaterThan(0);
      expect(time.efficiency).toBeLessThanOrEqual(1);
      expect(time.efficiency).toBeGreaterThan(0);
      // Corners are mostly wood, not air: at most a quarter of their time cuts nothing.
      const corners = built.proof!.stages.filter((s) => s.stage === 'corners');
      expect(corners.length > 0).toBe(part.blank.section !== 'round');
      for (const c of corners) expect(c.air_s / c.time_s).toBeLessThanOrEqual(0.25);
    },
    300_000,
  );
}
