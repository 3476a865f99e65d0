/** What a price hangs on beside the piece itself. Rates are invented until a document gives its own. */

export interface PriceOptions {
  readonly currency: string;
  /** Share of stock that is lost to sawing, where no cut list tells the true loss. */
  readonly waste: number;
  /** Setting up once for a run, and how many parts share it. */
  readonly setup_min: number;
  readonly parts: number;
  /** Work by hand on each part: mounting, changing bits, packing. */
  readonly hand_min: number;
  /** Sanding and finishing, minutes for a square decimetre of surface. */
  readonly finish_min_dm2: number;
  /** A person's hour. */
  readonly labourRate: number;
  /** Share of pieces that are spoiled. */
  readonly scrap: number;
  /** Share on top of cost: rent, tools, sandpaper and oil, the hours that nobody pays. */
  readonly overhead: number;
  /** Share of the selling price that is left over. */
  readonly margin: number;
  /** Quantities at which the list tells a price. */
  readonly breaks: readonly number[];
}

export const PRICE_DEFAULTS: PriceOptions = {
  currency: 'units',
  waste: 0.15,
  setup_min: 20,
  parts: 1,
  hand_min: 6,
  finish_min_dm2: 1.5,
  labourRate: 24,
  scrap: 0.05,
  overhead: 0.15,
  margin: 0.3,
  breaks: [1, 10, 25, 100],
};
