/**
 * Nesting along one axis: pieces of some lengths onto lengths of stock, so that the least stock is used. Column generation
 * gives a bound and good patterns; whole sticks are then found by diving (take the patterns as often as they are used in whole,
 * relax what is left, again), and the few pieces at the end by full search. A second look follows other patterns while the
 * bound is not reached. Deterministic; work is bounded by `DIVES` and by the bounds of what it calls.
 * Sources, from memory: Gilmore & Gomory 1961 and 1963; Martello & Toth, Knapsack Problems, ch. 8; diving after Wäscher & Gau 1996.
 */
import { type Pattern, type Relaxed, relax, type Supply } from './nest-columns.ts';
import { fillInTurn, searchAll, type Whole } from './nest-search.ts';

/** Lengths are counted in whole steps of this, mm: finer than any saw; pieces are rounded up and stock down. */
const UNIT = 0.1;

export interface StockLength {
  /** Name on the rack, for lists. */
  readonly name: string;
  /** mm. */
  readonly length: number;
  /** How many there are; left out, as many as it takes. */
  readonly quantity?: number | undefined;
}

export interface Wanted {
  readonly id: string;
  /** Length of the finished form, mm. */
  readonly length: number;
  readonly quantity: number;
}

export interface Nesting {
  /** Between neighbouring pieces, mm: the saw's kerf and what the bits need to come down between them. */
  readonly gap: number;
  /** Of every stick, mm: chuck grip, stubs, tailstock, what the saw takes when the stick is cut from its board. */
  readonly lost: number;
  /** Pieces on one stick at the most; left out, as many as fit. */
  readonly most?: number | undefined;
}

/** Sticks that are filled alike. */
export interface NestedStick {
  /** Index into the stock. */
  readonly stock: number;
  /** Indices into the wanted pieces, the longest first. */
  readonly pieces: readonly number[];
  readonly times: number;
  /** Length of the pieces themselves, mm. */
  readonly used: number;
}

export interface Nested {
  readonly sticks: readonly NestedStick[];
  /** Pieces for which there is no stick: too long for all, or the stock has run out. */
  readonly left: readonly {
    readonly wanted: number;
    readonly quantity: number;
    readonly why: 'too-long' | 'no-stock';
  }[];
  /** Length of all stock used, mm, and of the pieces on it. */
  readonly stockLength: number;
  readonly pieceLength: number;
  /** No way of cutting these pieces uses less stock than this, mm. */
  readonly bound: number;
  /** Whether that bound is reached, so that nothing better exists. */
  readonly optimal: boolean;
}

/** Relaxations solved at the most after the first. */
const DIVES = 60;
/** So few pieces are searched in full. */
const FEW = 14;
/** Times that a dive may follow its second or third pattern instead of its first. */
const DISCREPANCIES = 2;

/**
 * Nests pieces.
 * @param wanted lengths > 0, quantities ≥ 0 whole @param stock lengths > 0
 * @throws RangeError for a length or quantity that is none
 */
export function nest(wanted: readonly Wanted[], stock: readonly StockLength[], how: Nesting): Nested {
  for (const { length, quantity } of [
    ...wanted,
    ...stock.map((s) => ({ length: s.length, quantity: s.quantity ?? 0 })),
  ])
    if (!(length > 0 && Number.isFinite(length)) || !(Number.isInteger(quantity) && quantity >= 0))
      throw new RangeError(
        `length ${length} and quantity ${quantity}: a length above 0 and a whole number were expected`,
      );
  if (!(how.gap >= 0 && how.lost >= 0 && (how.most ?? 1) >= 1))
    throw new RangeError(`gap ${how.gap}, lost ${how.lost}, most ${how.most}: 0 or more, and at least one piece`);
  // n pieces have n − 1 gaps: each piece with a gap of its own fits where the stick has one gap more.
  const lengths = wanted.map((w) => Math.ceil((w.length + how.gap) / UNIT - 1e-6));
  const supplies: Supply[] = stock.map((s) => ({
    room: Math.max(0, Math.floor((s.length - how.lost + how.gap) / UNIT + 1e-6)),
    cost: Math.round(s.length / UNIT),
    quantity: s.quantity ?? Infinity,
  }));
  const roomiest = Math.max(0, ...supplies.map((s) => (s.quantity > 0 ? s.room : 0)));
  const left: Nested['left'][number][] = [];
  const demand = wanted.map((w, i) => {
    if (lengths[i]! <= roomiest) return w.quantity;
    if (w.quantity > 0) left.push({ wanted: i, quantity: w.quantity, why: 'too-long' });
    return 0;
  });
  const most = how.most ?? Infinity;
  const { whole, bound, missing } = solve(lengths, demand, supplies, most);
  missing.forEach((quantity, i) => {
    if (quantity > 0) left.push({ wanted: i, quantity, why: 'no-stock' });
  });
  const stockLength = whole.sticks.reduce((sum, p) => sum + stock[p.supply]!.length, 0);
  const sticks = gathered(whole.sticks).map(({ pattern, times }) => {
    const pieces = [...pattern.counts.keys()]
      .flatMap((i) => new Array<number>(pattern.counts[i]!).fill(i))
      .sort((a, b) => wanted[b]!.length - wanted[a]!.length || a - b);
    return { stock: pattern.supply, pieces, times, used: pieces.reduce((sum, i) => sum + wanted[i]!.length, 0) };
  });
  return {
    sticks,
    left,
    stockLength,
    pieceLength: sticks.reduce((sum, s) => sum + s.times * s.used, 0),
    bound: Math.min(stockLength, bound * UNIT),
    optimal: whole.cost <= bound + 1e-6,
  };
}

/** Sticks filled alike counted together, in the order of their first. */
function gathered(sticks: readonly Pattern[]): { pattern: Pattern; times: number }[] {
  const known = new Map<string, { pattern: Pattern; times: number }>();
  for (const pattern of sticks) {
    const key = `${pattern.supply}:${pattern.counts.join(',')}`;
    const row = known.get(key);
    if (row) row.times++;
    else known.set(key, { pattern, times: 1 });
  }
  return [...known.values()];
}

const gcd = (a: number, b: number): number => (b ? gcd(b, a % b) : a);

/** The bound raised to what whole sticks can cost: a multiple of what all their lengths share. */
function raised(bound: number, supplies: readonly Supply[]): number {
  const step = supplies.reduce((g, s) => gcd(g, s.cost), 0);
  return step > 0 ? Math.ceil(bound / step - 1e-6) * step : bound;
}

function solve(lengths: readonly number[], demand: readonly number[], supplies: readonly Supply[], most: number) {
  const none = demand.map(() => 0);
  if (demand.every((d) => d === 0)) return { whole: { sticks: [], cost: 0 } as Whole, bound: 0, missing: none };
  const pool: Pattern[] = [];
  const root = relax(lengths, demand, supplies, most, pool);
  let whole = root.feasible ? fillInTurn(lengths, demand, supplies, most) : undefined;
  let bound = raised(root.bound, supplies);
  // So few pieces are looked at in every way: what is found then is the least.
  if (root.feasible && demand.reduce((a, b) => a + b, 0) <= FEW) {
    const { whole: found, all } = searchAll(lengths, demand, supplies, most, (whole?.cost ?? Infinity) + 1);
    if (found) whole = found;
    if (whole && all) bound = whole.cost;
  }
  const dive = new Dive(lengths, supplies, most, bound, pool, whole);
  if (!whole || whole.cost > bound + 1e-6) {
    if (root.feasible) for (let k = 0; k <= DISCREPANCIES && !dive.done; k++) dive.into(demand, root, k);
    whole = dive.best;
  }
  if (whole) return { whole, bound, missing: none };
  // The stock does not reach: what can be made of it, the rest is told.
  return { ...asMuchAsThereIs(lengths, demand, supplies, most), bound: 0 };
}

function asMuchAsThereIs(
  lengths: readonly number[],
  demand: readonly number[],
  supplies: readonly Supply[],
  most: number,
): { whole: Whole; missing: number[] } {
  const much = supplies.map((s) => ({ ...s, quantity: Infinity }));
  const wish = fillInTurn(lengths, demand, much, most) ?? { sticks: [], cost: 0 };
  const stock = supplies.map((s) => s.quantity);
  const missing = demand.map(() => 0);
  const sticks: Pattern[] = [];
  for (const p of wish.sticks) {
    // Its own stock first, else any that takes as much.
    const used = p.counts.reduce((sum, c, i) => sum + c * lengths[i]!, 0);
    const has = (k: number) => stock[k]! >= 1 && supplies[k]!.room >= used;
    const supply = has(p.supply) ? p.supply : supplies.findIndex((_, k) => has(k));
    if (supply < 0) {
      p.counts.forEach((c, i) => {
        missing[i]! += c;
      });
      continue;
    }
    stock[supply]!--;
    sticks.push({ supply, counts: p.counts });
  }
  return { whole: { sticks, cost: sticks.reduce((sum, p) => sum + supplies[p.supply]!.cost, 0) }, missing };
}

/** Diving with limited second thoughts. */
class Dive {
  best: Whole | undefined;
  private left = DIVES;
  private readonly lengths: readonly number[];
  private readonly supplies: readonly Supply[];
  private readonly most: number;
  private readonly bound: number;
  private readonly pool: Pattern[];

  constructor(
    lengths: readonly number[],
    supplies: readonly Supply[],
    most: number,
    bound: number,
    pool: Pattern[],
    best?: Whole,
  ) {
    this.lengths = lengths;
    this.supplies = supplies;
    this.most = most;
    this.bound = bound;
    this.pool = pool;
    this.best = best;
  }

  get done(): boolean {
    return this.left <= 0 || (this.best !== undefined && this.best.cost <= this.bound + 1e-6);
  }

  /** @param relaxed of the demand @param doubts how often another than the first choice is followed */
  into(demand: readonly number[], relaxed: Relaxed, doubts: number): void {
    this.go(
      [...demand],
      relaxed,
      this.supplies.map((s) => s.quantity),
      [],
      0,
      doubts,
    );
  }

  private offer(sticks: readonly Pattern[], cost: number): void {
    if (!this.best || cost < this.best.cost - 1e-6) this.best = { sticks: [...sticks], cost };
  }

  private go(
    demand: number[],
    relaxed: Relaxed,
    stock: number[],
    sticks: readonly Pattern[],
    cost: number,
    doubts: number,
  ): void {
    const pieces = demand.reduce((a, b) => a + b, 0);
    if (pieces === 0) {
      this.offer(sticks, cost);
      return;
    }
    const supplies = this.supplies.map((s, k) => ({ ...s, quantity: stock[k]! }));
    if (pieces <= FEW) {
      const below = (this.best?.cost ?? Infinity) - cost;
      const { whole } = searchAll(this.lengths, demand, supplies, this.most, below);
      if (whole) this.offer([...sticks, ...whole.sticks], cost + whole.cost);
      return;
    }
    const ranked = relaxed.patterns
      .map((pattern, k) => ({ pattern, times: relaxed.times[k]! }))
      .sort((a, b) => part(b.times) - part(a.times) || b.times - a.times);
    const wholes = ranked.filter((r) => r.times >= 1 - 1e-6);
    const choices = ranked.slice(0, doubts > 0 ? 3 : 1);
    if (wholes.length > 0) {
      this.follow(demand, stock, sticks, cost, doubts, (take) => {
        for (const { pattern, times } of wholes) for (let n = Math.floor(times + 1e-6); n > 0; n--) take(pattern);
      });
      return;
    }
    for (const [k, { pattern }] of choices.entries()) {
      if (this.done) return;
      this.follow(demand, stock, sticks, cost, k > 0 ? doubts - 1 : doubts, (take) => take(pattern));
    }
  }

  /** Takes patterns, relaxes what is left and goes on, unless that cannot beat the best. */
  private follow(
    demand: readonly number[],
    stock: readonly number[],
    sticks: readonly Pattern[],
    cost: number,
    doubts: number,
    choose: (take: (pattern: Pattern) => void) => void,
  ): void {
    const rest = [...demand];
    const racks = [...stock];
    const taken = [...sticks];
    let sum = cost;
    choose(({ supply, counts }) => {
      // No more than is still wanted: a pattern of the relaxation may make a piece too many.
      const made = counts.map((c, i) => Math.min(c, rest[i]!));
      if (racks[supply]! < 1 || made.every((c) => c === 0)) return;
      made.forEach((c, i) => {
        rest[i]! -= c;
      });
      racks[supply]!--;
      taken.push({ supply, counts: made });
      sum += this.supplies[supply]!.cost;
    });
    const supplies = this.supplies.map((s, k) => ({ ...s, quantity: racks[k]! }));
    if (rest.reduce((a, b) => a + b, 0) <= FEW) {
      this.go(rest, { patterns: [], times: [], bound: 0, feasible: true }, racks, taken, sum, doubts);
      return;
    }
    if (--this.left < 0) return;
    const relaxed = relax(this.lengths, rest, supplies, this.most, this.pool);
    if (!relaxed.feasible || sum + relaxed.bound >= (this.best?.cost ?? Infinity) - 1e-6) return;
    this.go(rest, relaxed, racks, taken, sum, doubts);
  }
}

const part = (times: number): number => times - Math.floor(times + 1e-6);
