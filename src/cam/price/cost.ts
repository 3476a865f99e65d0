/**
 * What one piece costs and what it is sold for, line by line, in whole cents.
 *
 * Every line is worked out exactly and then rounded once to a whole cent, a half upward; sums are sums of rounded lines, so
 * that what is printed adds up. Common practice of small workshops, no source: spoiled pieces are paid by the good ones
 * (cost · s ÷ (1 − s)), overhead is a share of cost, margin is a share of the selling price (price = cost ÷ (1 − margin)).
 * Taxes are left to the person: every amount is before any sales or value-added tax.
 */
import type { Bit } from '../../../shared/catalog.ts';
import { SECONDS_PER_MINUTE } from '../../../shared/units.ts';
import { cents, type Exact, exact, near, ofCents, over, plus, rest, times } from './exact.ts';
import type { PriceOptions } from './options.ts';

/** A bit at work on one piece. */
export interface Work {
  readonly bit: Pick<Bit, 'price' | 'life_h'>;
  /** Time of its program, rapids included, s. */
  readonly time_s: number;
}

/** What the price of a piece hangs on. */
export interface PieceFacts {
  /** Stock for one piece, mm³. */
  readonly stock: number;
  /** Whether that stock already has saw cuts, grip and offcut in it, so that no share is lost beside it. */
  readonly nested?: boolean;
  /** Surface of the form, mm². */
  readonly surface: number;
  readonly work: readonly Work[];
  /** Of a litre of stock. */
  readonly materialPrice: number;
  /** Of an hour of the bench. */
  readonly benchRate: number;
}

/** Amounts in whole cents, times in s, of one piece among `quantity`. */
export interface Cost {
  readonly quantity: number;
  readonly material: number;
  readonly machine: number;
  readonly wear: number;
  readonly hand: number;
  readonly setup: number;
  readonly scrap: number;
  readonly overhead: number;
  /** Sum of the lines above. */
  readonly cost: number;
  /** Selling price less cost. */
  readonly profit: number;
  /** Selling price. */
  readonly unit: number;
  /** Time of the bench and of a person for one good piece, the spoiled ones' and its share of setting up included. */
  readonly bench_s: number;
  readonly person_s: number;
}

/** Material prices are for a litre of stock. */
const LITRE = 1e6;
const SQUARE_DECIMETRE = 1e4;
const MINUTES_PER_HOUR = exact(60);
const SECONDS_PER_HOUR = exact(60 * SECONDS_PER_MINUTE);
const WHOLE = exact(1);

/** @param quantity pieces in the run, a whole number of at least 1 */
export function costOf(piece: PieceFacts, o: PriceOptions, quantity: number): Cost {
  // Whole mm³, mm² and seconds are what the lists print: who reckons after them starts from the same numbers.
  const litres = over(exact(Math.round(piece.stock)), exact(LITRE));
  const surface = over(exact(Math.round(piece.surface)), exact(SQUARE_DECIMETRE));
  const hours = piece.work.map((w) => over(exact(Math.round(w.time_s)), SECONDS_PER_HOUR));
  const bench = plus(exact(0), ...hours);
  const waste = piece.nested ? exact(0) : exact(o.waste);
  const hand_h = over(plus(exact(o.hand_min), times(exact(o.finish_min_dm2), surface)), MINUTES_PER_HOUR);
  const setup_h = over(over(exact(o.setup_min), MINUTES_PER_HOUR), exact(quantity));
  const labour = exact(o.labourRate);

  const material = cents(times(litres, exact(piece.materialPrice), plus(WHOLE, waste)));
  const machine = cents(times(bench, exact(piece.benchRate)));
  const wear = cents(plus(exact(0), ...piece.work.map((w, i) => wearOf(w, hours[i]!))));
  const hand = cents(times(hand_h, labour));
  const setup = cents(times(setup_h, labour));
  const good = rest(exact(o.scrap));
  const scrap = cents(times(ofCents(material + machine + wear + hand), over(exact(o.scrap), good)));
  const made = material + machine + wear + hand + setup + scrap;
  const overhead = cents(times(ofCents(made), exact(o.overhead)));
  const cost = made + overhead;
  const unit = cents(over(ofCents(cost), rest(exact(o.margin))));
  const seconds = (h: Exact) => near(times(h, SECONDS_PER_HOUR));
  return {
    quantity,
    material,
    machine,
    wear,
    hand,
    setup,
    scrap,
    overhead,
    cost,
    profit: unit - cost,
    unit,
    bench_s: seconds(over(bench, good)),
    person_s: seconds(plus(over(hand_h, good), setup_h)),
  };
}

/** A bit whose row tells no price or no life wears for nothing. */
const wearOf = ({ bit }: Work, hours: Exact): Exact =>
  bit.price === undefined || bit.life_h === undefined
    ? exact(0)
    : times(over(hours, exact(bit.life_h)), exact(bit.price));
