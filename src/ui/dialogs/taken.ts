/** Which files may be taken, and in what order. Pure. */
import type { BuildResult, Raw } from '../state/contract.ts';

export interface Taken {
  name: string;
  content: Uint8Array | string;
  kind: 'program' | 'solid' | 'sheet' | 'report' | 'part';
}

const KINDS: [RegExp, Taken['kind']][] = [
  [/\.nc$/, 'program'],
  [/\.(stl|3mf|obj)$/, 'solid'],
  [/\.sheet\.html$/, 'sheet'],
];

/** The document's text as it is stored and taken. */
export const partText = (raw: Raw): string => `${JSON.stringify(raw, null, 2)}\n`;

/**
 * @param built of this very document; left out, only the document and the solid can be taken
 * @param solid files of the solid where no build has them @param unproven whether refused programs are wanted, under the names that say so
 */
export function takenFiles(
  raw: Raw,
  slug: string,
  built: BuildResult | undefined,
  unproven: boolean,
  solid: ReadonlyMap<string, Uint8Array | string> = new Map(),
): Taken[] {
  const files = [...new Map([...solid, ...(built?.files ?? [])])].map(
    ([name, content]): Taken => ({
      name,
      content,
      kind: KINDS.find(([pattern]) => pattern.test(name))?.[1] ?? 'report',
    }),
  );
  const allowed = files.filter(
    (f) => f.kind !== 'program' || built?.verdict === 'proven' || (unproven && /\.UNPROVEN\.nc$/.test(f.name)),
  );
  return [...allowed, { name: `${slug}.part.json`, content: partText(raw), kind: 'part' }];
}
