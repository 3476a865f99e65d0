/** The price list of a line: what each proven variant costs, is sold for, and what its profit hangs on. Pure. */
import { bitRow } from '../build/programs.ts';
import type { Report } from '../build/report.ts';
import type { Job } from '../cam/job.ts';
import { type Cost, costOf, type PieceFacts, type Work } from '../cam/price/cost.ts';
import { cents, exact, ofCents, over } from '../cam/price/exact.ts';
import { pieceFacts } from '../cam/price.ts';
import { resolvePart } from '../resolve.ts';
import type { MadeVariant, Variant } from './line.ts';

/** What a piece's own cost goes into: wood, time of the bench (with bit wear), hands. */
export const LIMITS = ['wood', 'time', 'hands'] as const;
export type Limit = (typeof LIMITS)[number];

/** Amounts in whole cents. */
export interface PriceRow {
  readonly variant: Variant;
  readonly job: Job;
  readonly report: Report;
  readonly currency: string;
  readonly piece: PieceFacts;
  /** Of one piece at the quantity that the row wants. */
  readonly cost: Cost;
  /** Of one piece at each quantity break, ascending. */
  readonly breaks: readonly Cost[];
  /** What the profit hangs on most: the largest share of the piece's own cost. */
  readonly limit: Limit;
  /** Shares of wood, time and hands in the piece's own cost, together 1 (or all 0 for a piece that costs nothing). */
  readonly shares: Readonly<Record<Limit, number>>;
  /** Profit for an hour of the bench and of a person; undefined where there is no such hour. */
  readonly perBenchHour: number | undefined;
  readonly perPersonHour: number | undefined;
}

/** Sums over all pieces wanted in one currency; cents and s. */
export interface Total {
  readonly currency: string;
  readonly pieces: number;
  readonly price: number;
  readonly cost: number;
  readonly profit: number;
  readonly bench_s: number;
  readonly person_s: number;
}

export interface PriceList {
  readonly rows: readonly PriceRow[];
  readonly totals: readonly Total[];
}

/** @param nested stock of one piece by the cut list, mm³, by variant slug; a variant that is not in it pays its own blank and the share of waste */
export function priceList(line: readonly MadeVariant[], nested: ReadonlyMap<string, number> = new Map()): PriceList {
  const rows = line.flatMap((m) => priceRow(m, nested.get(m.variant.slug)) ?? []);
  const currencies = [...new Set(rows.map((r) => r.currency))];
  return {
    rows,
    totals: currencies.map((c) =>
      totalOf(
        c,
        rows.filter((r) => r.currency === c),
      ),
    ),
  };
}

/** @returns undefined for a variant that is not proven: it has no price @throws Error if the report is not of this document */
function priceRow(made: MadeVariant, nested: number | undefined): PriceRow | undefined {
  const { variant, report } = made;
  if (made.verdict !== 'proven' || !report) return undefined;
  const { job } = resolvePart(variant.part);
  if (!job) throw new Error(`${variant.slug} is proven but cannot be resolved`);
  const piece = pieceFacts(job, workOf(job, report), nested);
  const { price } = variant.part;
  const cost = costOf(piece, price, variant.quantity);
  const shares = sharesOf(cost);
  return {
    variant,
    job,
    report,
    currency: price.currency,
    piece,
    cost,
    breaks: [...new Set(price.breaks)].sort((a, b) => a - b).map((q) => costOf(piece, price, q)),
    limit: LIMITS.reduce((most, l) => (shares[l] > shares[most] ? l : most)),
    shares,
    perBenchHour: perHour(cost.profit, cost.bench_s),
    perPersonHour: perHour(cost.profit, cost.person_s),
  };
}

/** Bits and their times, from the report; the bits' prices and lives from the document's own tools. */
function workOf(job: Job, report: Report): Work[] {
  const { roughing, finishing, detail, drills } = job.tools;
  const bits = [roughing, finishing, ...detail, ...drills].map((t) => t.bit);
  return report.programs.map((p) => {
    const told = JSON.stringify(p.bit);
    const bit = bits.find((b) => JSON.stringify(bitRow(b)) === told);
    if (!bit) throw new Error(`${report.part.name}: ${p.file} has a bit that is not in its document: ${told}`);
    return { bit, time_s: p.time_s };
  });
}

function sharesOf(c: Cost): Record<Limit, number> {
  const parts = { wood: c.material, time: c.machine + c.wear, hands: c.hand + c.setup };
  const sum = parts.wood + parts.time + parts.hands;
  return sum ? { wood: parts.wood / sum, time: parts.time / sum, hands: parts.hands / sum } : parts;
}

const SECONDS = 3600;
const perHour = (profit: number, seconds: number): number | undefined =>
  seconds > 0 ? cents(over(ofCents(profit), over(exact(seconds), exact(SECONDS)))) : undefined;

function totalOf(currency: string, rows: readonly PriceRow[]): Total {
  const sum = (of: (c: Cost) => number) => rows.reduce((s, r) => s + r.variant.quantity * of(r.cost), 0);
  return {
    currency,
    pieces: sum(() => 1),
    price: sum((c) => c.unit),
    cost: sum((c) => c.cost),
    profit: sum((c) => c.profit),
    bench_s: sum((c) => c.bench_s),
    person_s: sum((c) => c.person_s),
  };
}
