/** What one part costs to make: stock, the bench's time, a person's time. Rates are invented until a document gives its own. */
import { SECONDS_PER_MINUTE } from '../../shared/units.ts';
import { blankVolume } from './blank.ts';
import type { Job } from './job.ts';

export interface PriceOptions {
  readonly currency: string;
  /** Share of stock that is lost to sawing and faults. */
  readonly waste: number;
  /** Setting up once for a run, and how many parts share it. */
  readonly setup_min: number;
  readonly parts: number;
  /** Work by hand on each part: mounting, changing bits, sanding, finish. */
  readonly hand_min: number;
  /** A person's hour. */
  readonly labourRate: number;
}

export const PRICE_DEFAULTS: PriceOptions = {
  currency: 'units',
  waste: 0.15,
  setup_min: 20,
  parts: 1,
  hand_min: 15,
  labourRate: 24,
};

export interface Price {
  readonly currency: string;
  readonly material: number;
  readonly machine: number;
  readonly labour: number;
  readonly unit: number;
}

const cents = (value: number): number => Math.round(value * 100) / 100;
/** Material prices are for a litre of stock. */
const LITRE = 1e6;
const MINUTES_PER_HOUR = 60;

/** Price of one part. @param time_s machine time of one part, s @param options what differs from the defaults */
export function priceOf(job: Job, time_s: number, options: Partial<PriceOptions> = {}): Price {
  const o = { ...PRICE_DEFAULTS, ...options };
  const material = cents((blankVolume(job.blank) / LITRE) * job.material.price * (1 + o.waste));
  const machine = cents((time_s / SECONDS_PER_MINUTE / MINUTES_PER_HOUR) * job.bench.hourlyRate);
  const labour = cents(((o.setup_min / o.parts + o.hand_min) / MINUTES_PER_HOUR) * o.labourRate);
  return { currency: o.currency, material, machine, labour, unit: cents(material + machine + labour) };
}
