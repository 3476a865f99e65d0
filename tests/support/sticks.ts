/** Sticks of several templates, as a line makes them. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { composeStick, type Stick } from '../../src/batch/stick.ts';
import { arrange } from '../../src/batch/stick-arrange.ts';
import { pieceOf } from '../../src/batch/stick-piece.ts';
import { endForEnd } from '../../src/batch/stick-turn.ts';
import { type Part, parsePart } from '../../src/part.ts';
import { formSection, sectionSize } from '../../src/resolve/blank.ts';

/** A template as a part. @throws Error if it is none */
export function template(name: string): Part {
  const parsed = parsePart(
    readFileSync(join(import.meta.dirname, '..', '..', 'templates', `${name}.part.json`), 'utf8'),
  );
  if (!('part' in parsed)) throw new Error(`${name}: ${parsed.problems[0]?.message}`);
  return parsed.part;
}

/** A stick of templates in their best order, cut from the blank and on the bench of `like`. */
export function stickOf(
  name: string,
  kinds: readonly (readonly [template: string, quantity: number])[],
  like: Partial<Part> = {},
): Stick {
  const first = { ...template(kinds[0]![0]), ...like };
  const section = formSection(sectionSize(first.blank, 0));
  const parts = kinds.map(([t]) => template(t));
  const pieces = parts.map((part) => {
    const written = pieceOf(part, section);
    if ('problems' in written) throw new Error(written.problems[0]!.message);
    return written.piece;
  });
  const order = arrange(
    pieces.map((p, k) => ({ ends: p.ends, quantity: kinds[k]![1], turnable: endForEnd(p) !== undefined })),
  ).order;
  return composeStick(
    order.map(({ kind, turned }, k) => ({ name: `${parts[kind]!.name} ${k + 1}`, part: parts[kind]!, turned })),
    { name, like },
  );
}
