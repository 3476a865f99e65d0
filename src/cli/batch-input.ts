/** What `batch` is given: options, part document, table, rack; read and checked before anything is made. */
import { existsSync } from 'node:fs';
import { benches } from '../../shared/catalog.ts';
import type { Problem } from '../../shared/problems.ts';
import type { Variant } from '../batch/line.ts';
import type { Decimal } from '../batch/line-numbers.ts';
import { readLine, type TableOptions } from '../batch/line-table.ts';
import type { Separator } from '../batch/line-text.ts';
import { readRack } from '../batch/rack.ts';
import { type LineSticks, type RackLength, sticksOf } from '../batch/stick-line.ts';
import { type Part, writePart } from '../part.ts';
import { inTheWay } from './batch-store.ts';
import type { CommonOptions } from './make.ts';
import { readPart } from './read-part.ts';
import { readTable } from './read-table.ts';

/** One of n equal parts of a table. */
export interface Shard {
  readonly part: number;
  readonly of: number;
}

export interface BatchOptions extends CommonOptions {
  readonly table: string;
  readonly out: string;
  readonly workers?: number;
  readonly shard?: Shard;
  readonly merge?: readonly string[];
  readonly bench?: string;
  /** Lengths of stock onto which pieces are nested; left out, every piece has a blank of its own. */
  readonly stock?: readonly RackLength[];
  /** A table of more of them. */
  readonly rack?: string;
  readonly most?: number;
  readonly separator?: Separator;
  readonly decimal?: Decimal;
}

/** A problem of an option or a file that it names. */
export const unreadable = (path: string, message: string, allowed: string): Problem => ({
  code: 'unreadable',
  severity: 'refuse',
  path,
  message,
  allowed,
});

/** Problems of a table under its file's name; those of the document stand as they are. */
const inFile = (file: string, problems: readonly Problem[]): Problem[] =>
  problems.map((p) => (p.path.startsWith('line ') ? { ...p, path: `${file}: ${p.path}` } : p));
const said = (file: string, read: { readonly said: readonly string[] }): string[] =>
  read.said.map((s) => `${file}: ${s}`);

/** The stock that pieces are nested onto; no rack if none was named. */
function readStock(
  part: Part,
  { stock, rack, ...told }: BatchOptions,
): { rack?: readonly RackLength[]; said: string[] } | { problems: readonly Problem[] } {
  if (rack === undefined) return { ...(stock ? { rack: stock } : {}), said: [] };
  const table = readTable(rack);
  if ('problem' in table) return { problems: [table.problem] };
  const read = readRack(table.text, part.units === 'inch', tableOptions(told));
  if ('problems' in read) return { problems: inFile(rack, read.problems) };
  return { rack: [...(stock ?? []), ...read.rack], said: said(rack, read) };
}

const tableOptions = ({ separator, decimal }: Pick<BatchOptions, 'separator' | 'decimal'>): TableOptions => ({
  ...(separator ? { separator } : {}),
  ...(decimal ? { decimal } : {}),
});

/** What a run is about. */
export interface BatchInput {
  readonly part: Part;
  readonly variants: readonly Variant[];
  /** On which the pieces lie, if stock was named. */
  readonly sticks?: LineSticks;
  /** What was recognised of the tables, a sentence each. */
  readonly said: readonly string[];
}

/** Reads everything that a run is about. @returns that, or what is wrong before anything is made */
export function readInput(file: string, options: BatchOptions): BatchInput | { problems: readonly Problem[] } {
  const read = readPart(file);
  if ('problems' in read) return read;
  const { part } = read;
  if (options.bench !== undefined && !benches.some((b) => b.id === options.bench))
    return {
      problems: [
        unreadable('--bench', `no bench is called "${options.bench}"`, `one of ${benches.map((b) => b.id).join(', ')}`),
      ],
    };
  const written = JSON.parse(writePart(part)) as object;
  const raw = options.bench === undefined ? written : { ...written, bench: options.bench };
  const table = readTable(options.table);
  if ('problem' in table) return { problems: [table.problem] };
  const line = readLine(raw, table.text, tableOptions(options));
  if ('problems' in line) return { problems: inFile(options.table, line.problems) };
  for (const folder of options.merge ?? [])
    if (!existsSync(folder))
      return { problems: [unreadable('--merge', `there is no folder ${folder}`, 'output folders of other runs')] };
  const stock = readStock(part, options);
  if ('problems' in stock) return stock;
  const { most } = options;
  const sticks = stock.rack && sticksOf(line.variants, { rack: stock.rack, ...(most === undefined ? {} : { most }) });
  const way = inTheWay(
    options.out,
    [...line.variants, ...(sticks?.sticks ?? [])].map((v) => v.slug),
  );
  return way
    ? { problems: [way] }
    : {
        part,
        variants: line.variants,
        said: [...said(options.table, line), ...stock.said],
        ...(sticks ? { sticks } : {}),
      };
}
