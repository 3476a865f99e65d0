/** The line that lies on the page: its rows, what was made of them, and what is being made. Plain: no React, no worker of its own. */
import { createStore, type StoreApi } from 'zustand/vanilla';
import type { Problem } from '../../../shared/problems.ts';
import type { MadeVariant, Variant } from '../../batch/line.ts';
import { type Cost, costOf, type PieceFacts } from '../../cam/price/cost.ts';
import type { Raw } from '../state/contract.ts';
import type { Work } from '../state/workshop.ts';
import { type LineColumn, lineColumns } from './columns.ts';
import { type LineRow, type NewRow, type RowCheck, rowChecker } from './rows.ts';

/** A variant as a worker gives it. */
export interface MadeRow {
  readonly made: MadeVariant;
  /** As `make` writes them. */
  readonly files: ReadonlyMap<string, Uint8Array | string>;
  /** What its price hangs on, and how it looks; of a proven variant. */
  readonly piece?: PieceFacts;
  readonly picture?: string;
}

export type RowState =
  | { readonly status: 'waiting' }
  | { readonly status: 'working'; readonly share: number; readonly what: string }
  | { readonly status: 'made'; readonly value: MadeRow }
  | { readonly status: 'failed'; readonly message: string };

/** Threads that make variants, as many at once as there are. */
export interface LineWorld {
  readonly threads: number;
  make(variant: Variant, tell: (share: number, what: string) => void): Work<MadeRow>;
  /** The whole folder as a zip. */
  pack(title: string, made: readonly MadeRow[], wanted: number): Promise<Uint8Array>;
}

export interface Line {
  readonly raw: Raw;
  readonly columns: readonly LineColumn[];
  /** Why the document cannot have a line yet. */
  readonly problems: readonly Problem[];
  readonly rows: readonly LineRow[];
  readonly checks: readonly RowCheck[];
  /** What was and is made, by the rows' keys: a row that becomes again what it was is not made again. */
  readonly works: ReadonlyMap<string, RowState>;
  readonly running: boolean;
}

export interface LineActions {
  /** Takes the document over as it is now; rows stay. */
  open(raw: Raw): void;
  add(rows: readonly NewRow[]): void;
  edit(id: number, patch: Partial<NewRow>): void;
  remove(id: number): void;
  clear(): void;
  /** Makes every row that is right and not made yet. */
  start(): void;
  /** Drops what is being made; what is made stays. */
  stop(): void;
  pack(): Promise<Uint8Array>;
}
export type LineStore = StoreApi<Line & LineActions>;

export function createLine(world: LineWorld): LineStore {
  const check = rowChecker();
  const active = new Map<string, Work<MadeRow>>();
  let ids = 0;
  return createStore<Line & LineActions>((set, get) => {
    const rechecked = (rows: readonly LineRow[]) => ({ rows, checks: check(get().raw, get().columns, rows) });
    const put = (key: string, state: RowState | undefined) => {
      const works = new Map(get().works);
      if (state) works.set(key, state);
      else works.delete(key);
      set({ works });
    };
    const next = () => {
      const { checks, works } = get();
      return checks.find((c) => c.variant && !active.has(c.key) && !isDone(works.get(c.key)));
    };
    const fill = () => {
      while (get().running && active.size < world.threads) {
        const check = next();
        if (!check) break;
        begin(check.key, check.variant!);
      }
      if (!active.size) set({ running: false });
    };
    const begin = (key: string, variant: Variant) => {
      put(key, { status: 'working', share: 0, what: 'waiting for a thread' });
      const work = world.make(variant, (share, what) => {
        if (active.get(key) === work) put(key, { status: 'working', share, what });
      });
      active.set(key, work);
      const end = (state: RowState) => {
        // A stopped piece of work may still answer.
        if (active.get(key) !== work) return;
        active.delete(key);
        put(key, state);
        fill();
      };
      work.result.then(
        (value) => end({ status: 'made', value }),
        (fault: unknown) => end({ status: 'failed', message: fault instanceof Error ? fault.message : String(fault) }),
      );
    };
    return {
      raw: {},
      columns: [],
      problems: [],
      rows: [],
      checks: [],
      works: new Map(),
      running: false,
      open: (raw) => {
        if (get().raw === raw) return;
        const found = lineColumns(raw);
        set(
          'columns' in found
            ? { raw, columns: found.columns, problems: [] }
            : { raw, columns: [], problems: found.problems },
        );
        set(rechecked(get().rows));
      },
      add: (rows) => {
        set(rechecked([...get().rows, ...rows.map((row) => ({ ...row, id: ++ids }))]));
        fill();
      },
      edit: (id, patch) => {
        set(rechecked(get().rows.map((r) => (r.id === id ? { ...r, ...patch } : r))));
        fill();
      },
      remove: (id) => set(rechecked(get().rows.filter((r) => r.id !== id))),
      clear: () => {
        get().stop();
        set(rechecked([]));
      },
      start: () => {
        // What failed is tried again.
        const works = new Map([...get().works].filter(([, s]) => s.status !== 'failed'));
        set({ running: true, works });
        fill();
      },
      stop: () => {
        const dropped = [...active];
        active.clear();
        set({ running: false, works: new Map([...get().works].filter(([key]) => !dropped.some(([k]) => k === key))) });
        for (const [, work] of dropped) work.stop();
      },
      pack: () => {
        const made = madeRows(get());
        return world.pack(titleOf(get().raw), made, get().rows.length);
      },
    };
  });
}

const isDone = (s: RowState | undefined): boolean => s?.status === 'made' || s?.status === 'failed';

export const titleOf = (raw: Raw): string => String(raw.name ?? 'A line');

/** Rows that are made, in their order, each as its row now stands: name, number and pieces may be later than its making. */
export function madeRows({ checks, works }: Pick<Line, 'checks' | 'works'>): MadeRow[] {
  return checks.flatMap(({ key, variant }) => {
    const state = variant && works.get(key);
    return variant && state?.status === 'made' ? [{ ...state.value, made: { ...state.value.made, variant } }] : [];
  });
}

export const rowState = ({ works }: Pick<Line, 'works'>, check: RowCheck | undefined): RowState =>
  (check && works.get(check.key)) ?? { status: 'waiting' };

/** Price and hours of a made row at the pieces that it wants. @returns undefined if it is not proven */
export const rowCost = ({ piece, made }: MadeRow): Cost | undefined =>
  piece && costOf(piece, made.variant.part.price, made.variant.quantity);

/** What the line has come to. */
export function lineTotals(line: Pick<Line, 'rows' | 'checks' | 'works'>) {
  const made = madeRows(line);
  const costs = made.flatMap((m) => {
    const cost = rowCost(m);
    return cost ? [{ cost, quantity: m.made.variant.quantity, currency: m.made.variant.part.price.currency }] : [];
  });
  const currencies = [...new Set(costs.map((c) => c.currency))];
  const shares = line.checks.map((c) => {
    const state = rowState(line, c);
    return state.status === 'working' ? state.share : state.status === 'made' ? 1 : 0;
  });
  return {
    rows: line.rows.length,
    wrong: line.checks.filter((c) => !c.variant).length,
    proven: made.filter((m) => m.made.verdict === 'proven').length,
    refused: made.filter((m) => m.made.verdict !== 'proven').length,
    pieces: costs.reduce((s, c) => s + c.quantity, 0),
    bench_s: costs.reduce((s, c) => s + c.quantity * c.cost.bench_s, 0),
    /** Cents by currency. */
    price: currencies.map((currency) => ({
      currency,
      sum: costs.filter((c) => c.currency === currency).reduce((s, c) => s + c.quantity * c.cost.unit, 0),
    })),
    share: shares.length ? shares.reduce((a, b) => a + b, 0) / shares.length : 0,
  };
}
