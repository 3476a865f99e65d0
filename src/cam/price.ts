/** What one part costs to make: stock, the bench's time with the wear of its bits, a person's time. */
import { surfaceArea } from '../profiles/surface-area.ts';
import { blankVolume } from './blank.ts';
import type { Job } from './job.ts';
import { costOf, type PieceFacts, type Work } from './price/cost.ts';
import { PRICE_DEFAULTS, type PriceOptions } from './price/options.ts';

/** Of the report; scrap, overhead and margin are the price list's. */
export interface Price {
  readonly currency: string;
  readonly material: number;
  /** The bench's time and the wear of its bits. */
  readonly machine: number;
  /** Work by hand and the part's share of setting up. */
  readonly labour: number;
  /** The sum of the three. */
  readonly unit: number;
}

/** What the price of a part hangs on. @param work bits and their times on one part @param nested stock of a piece by the cut list, mm³ */
export const pieceFacts = (job: Job, work: readonly Work[], nested?: number): PieceFacts => ({
  stock: nested ?? blankVolume(job.blank),
  nested: nested !== undefined,
  surface: surfaceArea(job.field),
  work,
  materialPrice: job.material.price,
  benchRate: job.bench.hourlyRate,
});

/** Cost of one part among `parts`. @param work bits and their times on it @param options what differs from the defaults */
export function priceOf(job: Job, work: readonly Work[], options: Partial<PriceOptions> = {}): Price {
  const o = { ...PRICE_DEFAULTS, ...options };
  const c = costOf(pieceFacts(job, work), o, o.parts);
  const whole = [c.material, c.machine + c.wear, c.hand + c.setup] as const;
  const [material, machine, labour] = whole.map((w) => w / 100) as [number, number, number];
  return { currency: o.currency, material, machine, labour, unit: (whole[0] + whole[1] + whole[2]) / 100 };
}
