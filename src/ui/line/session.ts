/** The line that lies on the page: its rows, what was made of them, and what is being made. Plain: no React, no worker of its own. */
import { createStore, type StoreApi } from 'zustand/vanilla';
import type { Problem } from '../../../shared/problems.ts';
import type { Variant } from '../../batch/line.ts';
import { type Cost, costOf } from '../../cam/price/cost.ts';
import type { Raw } from '../state/contract.ts';
import type { Work } from '../state/workshop.ts';
import { type LineColumn, lineColumns } from './columns.ts';
import type { LineKeep } from './keep.ts';
import type { MadeRow } from './made-row.ts';
import { type LineRow, type NewRow, type RowCheck, rowChecker } from './rows.ts';

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
  /** Where lines stay between visits. */
  readonly keep: LineKeep;
}

export interface Line {
  /** Of the document that it is a line of. */
  readonly id: string;
  readonly raw: Raw;
  /** Whether what is kept of it is still on the way. */
  readonly loading: boolean;
  /** What the browser would not keep. */
  readonly unkept: 'nothing' | 'made' | 'rows';
  /** Columns that a table brought. */
  readonly brought: readonly string[];
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
  /** Takes a document over as it is now; the rows are those that were kept of it. @param id of the document */
  open(raw: Raw, id: string): Promise<void>;
  add(rows: readonly NewRow[]): void;
  /** Adds rows of a table. @param brought columns of the line beside the document's own, from now on */
  bring(rows: readonly NewRow[], brought: readonly string[]): void;
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
  let writing: Promise<void> = Promise.resolve();
  return createStore<Line & LineActions>((set, get) => {
    const unkept = (what: 'made' | 'rows') => {
      if (get().unkept !== 'rows') set({ unkept: what });
    };
    const keepRows = () => {
      const { id, rows, brought } = get();
      const written = rows.map(({ name, quantity, cells }) => ({ name, quantity, cells }));
      // One after another: the last that was written is what stays.
      writing = writing
        .then(() => world.keep.saveRows(id, { rows: written, columns: brought }))
        .catch(() => unkept('rows'));
    };
    const load = async (id: string) => {
      try {
        await writing;
        const kept = await world.keep.load(id);
        if (get().id !== id) return;
        const works = new Map([...kept.made].map(([key, value]) => [key, { status: 'made', value } as RowState]));
        set({ works: new Map([...works, ...get().works]), brought: kept.columns });
        takeColumns();
        set(rechecked([...kept.rows.map((row) => ({ ...row, id: ++ids })), ...get().rows]));
        // A row that is wrong as the document now stands may be right again: then nothing is sure to be needed no more.
        const { checks } = get();
        if (checks.every((c) => c.variant))
          await world.keep
            .prune(
              id,
              checks.map((c) => c.key),
            )
            .catch(() => {});
      } catch {
        if (get().id === id) unkept('rows');
      } finally {
        if (get().id === id) set({ loading: false });
      }
    };
    const takeColumns = () => {
      const found = lineColumns(get().raw, get().brought);
      set('columns' in found ? { columns: found.columns, problems: [] } : { columns: [], problems: found.problems });
    };
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
      const { id } = get();
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
        (value) => {
          if (active.get(key) === work) world.keep.saveMade(id, key, value).catch(() => unkept('made'));
          end({ status: 'made', value });
        },
        (fault: unknown) => end({ status: 'failed', message: fault instanceof Error ? fault.message : String(fault) }),
      );
    };
    return {
      id: '',
      raw: {},
      loading: false,
      unkept: 'nothing',
      brought: [],
      columns: [],
      problems: [],
      rows: [],
      checks: [],
      works: new Map(),
      running: false,
      open: async (raw, id) => {
        const other = get().id !== id;
        if (!other && get().raw === raw) return;
        if (other) {
          get().stop();
          set({ id, rows: [], brought: [], works: new Map(), unkept: 'nothing', loading: true });
        }
        set({ raw });
        takeColumns();
        set(rechecked(get().rows));
        if (other) await load(id);
      },
      add: (rows) => {
        set(rechecked([...get().rows, ...rows.map((row) => ({ ...row, id: ++ids }))]));
        keepRows();
        fill();
      },
      bring: (rows, brought) => {
        set({ brought });
        takeColumns();
        get().add(rows);
      },
      edit: (id, patch) => {
        set(rechecked(get().rows.map((r) => (r.id === id ? { ...r, ...patch } : r))));
        keepRows();
        fill();
      },
      remove: (id) => {
        set(rechecked(get().rows.filter((r) => r.id !== id)));
        keepRows();
      },
      clear: () => {
        get().stop();
        set(rechecked([]));
        keepRows();
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
