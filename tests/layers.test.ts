import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import { expect, test } from 'vitest';

const root = resolve(import.meta.dirname, '..');
/** From top to bottom; a file imports only from its own layer or from one above it. */
const layers = [
  ['shared'],
  ['src/profiles'],
  ['src/mesh', 'src/cam'],
  ['src/part', 'src/part.ts', 'src/resolve', 'src/resolve.ts', 'src/build', 'src/build.ts'],
  ['src/batch'],
  ['src/cli', 'src/ui'],
];
/** Siblings in one row of the list may not know each other. */
const strangers = [
  ['src/mesh', 'src/cam'],
  ['src/cam', 'src/mesh'],
  ['src/cli', 'src/ui'],
  ['src/ui', 'src/cli'],
];
/** The proof shares no code with the planner or the writer: of src/cam it takes types of plain data, nothing that runs. */

function sources(dir: string): string[] {
  return readdirSync(dir, { withFileTypes: true, recursive: true })
    .filter((e) => e.isFile() && /\.tsx?$/.test(e.name))
    .map((e) => relative(root, join(e.parentPath, e.name)));
}
const files = [...sources(join(root, 'shared')), ...sources(join(root, 'src'))];
const importsOf = (file: string): string[] =>
  [...readFileSync(join(root, file), 'utf8').matchAll(/(?:from|import)\s*\(?\s*['"]([^'"]+)['"]/g)].map((m) => m[1]!);
const target = (file: string, spec: string) => relative(root, resolve(root, dirname(file), spec));
const layerOf = (file: string) =>
  layers.findIndex((names) => names.some((n) => file === n || file.startsWith(`${n}/`)));
const inside = (file: string, dir: string) => file.startsWith(`${dir}/`);

test('every source file belongs to a layer', () => {
  expect(files.length).toBeGreaterThan(5);
  expect(files.filter((f) => layerOf(f) < 0)).toEqual([]);
});

test('imports run upward in the list of layers only', () => {
  const wrong: string[] = [];
  for (const file of files)
    for (const spec of importsOf(file).filter((s) => s.startsWith('.'))) {
      const to = target(file, spec);
      if (layerOf(to) > layerOf(file)) wrong.push(`${file} → ${to}`);
      if (strangers.some(([a, b]) => inside(file, a!) && inside(to, b!))) wrong.push(`${file} → ${to}`);
    }
  expect(wrong).toEqual([]);
});

test('the proof takes nothing that runs from planner or writer', () => {
  const wrong = files
    .filter((f) => inside(f, 'src/cam/proof'))
    .flatMap((f) =>
      [...readFileSync(join(root, f), 'utf8').matchAll(/(?:import|export)\s+(?!type\b)[^;]*?from\s*['"]([^'"]+)['"]/g)]
        .map((m) => m[1]!)
        .filter((s) => s.startsWith('.'))
        .map((s) => target(f, s))
        .filter((t) => inside(t, 'src/cam') && !inside(t, 'src/cam/proof'))
        .map((t) => `${f} → ${t}`),
    );
  expect(wrong).toEqual([]);
});

test('outside packages have one door each', () => {
  const wrong: string[] = [];
  for (const file of files)
    for (const spec of importsOf(file).filter((s) => !s.startsWith('.'))) {
      if (spec === 'manifold-3d' && file !== 'src/mesh/kernel.ts') wrong.push(`${file} → ${spec}`);
      if (/^(react|react-dom|three|@react-three|leva|zustand|comlink|idb)(\/|$)/.test(spec) && !inside(file, 'src/ui'))
        wrong.push(`${file} → ${spec}`);
      if (/^node:/.test(spec) && !inside(file, 'src/cli')) wrong.push(`${file} → ${spec}`);
    }
  expect(wrong).toEqual([]);
});

test('no file imports itself through others', () => {
  const graph = new Map(
    files.map(
      (f) =>
        [
          f,
          importsOf(f)
            .filter((s) => s.startsWith('.'))
            .map((s) => target(f, s)),
        ] as const,
    ),
  );
  const done = new Set<string>();
  const visit = (f: string, path: string[]): string[] | undefined => {
    if (path.includes(f)) return [...path.slice(path.indexOf(f)), f];
    if (done.has(f)) return undefined;
    for (const to of graph.get(f) ?? []) {
      const cycle = visit(to, [...path, f]);
      if (cycle) return cycle;
    }
    done.add(f);
    return undefined;
  };
  const cycles = files.map((f) => visit(f, [])).filter((c) => c);
  expect(cycles).toEqual([]);
});
