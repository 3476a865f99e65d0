/**
 * Order of work: in which order a bench runs its parts and sticks so that bits are changed and jaws set anew as seldom as can
 * be, and what fits into a day. Exact for few kinds of run (dynamic programming over what is still to be run, Held & Karp 1962
 * on counts instead of sets); beyond `STATES` blank after blank in the fewest trails from bit to bit. Either way the least that any order takes is stated beside it.
 */

/** Something that is mounted once and run through all its programs: a part, or a stick of several. */
export interface Run {
  readonly id: string;
  readonly name: string;
  /** Bench that runs it. */
  readonly bench: string;
  /** What the jaws are set to, e.g. `square 28`: another one means setting them anew. */
  readonly blank: string;
  /** Bit of each program, in run order. */
  readonly bits: readonly string[];
  /** Machine time of one, minutes. */
  readonly machine_min: number;
  /** How many of it. */
  readonly quantity: number;
  /** Pieces on each. */
  readonly pieces: number;
}

/** What the hands of a shop need, minutes; and its day. */
export interface Shop {
  readonly bitChange_min: number;
  readonly jaws_min: number;
  /** Putting one blank in and taking it out. */
  readonly mount_min: number;
  readonly hoursADay: number;
}

/** Common practice, no source. */
export const SHOP: Shop = { bitChange_min: 3, jaws_min: 6, mount_min: 4, hoursADay: 7 };

export interface RunLine {
  readonly run: Run;
  /** Which of its quantity, from 1. */
  readonly number: number;
  readonly day: number;
  /** Minutes from the day's start. */
  readonly from_min: number;
  readonly to_min: number;
  /** Bits changed before and within it; whether the jaws are set anew before it. */
  readonly bitChanges: number;
  readonly jaws: boolean;
}

export interface DayOfWork {
  readonly day: number;
  readonly minutes: number;
  readonly machine_min: number;
  readonly bitChanges: number;
  readonly jaws: number;
  readonly sticks: number;
  readonly pieces: number;
}

export interface RunList {
  readonly bench: string;
  readonly lines: readonly RunLine[];
  readonly days: readonly DayOfWork[];
  readonly bitChanges: number;
  readonly jaws: number;
  /** Minutes of changing bits and setting jaws, and the least that any order of these runs takes. */
  readonly setup_min: number;
  readonly bound_min: number;
}

/** Orders looked at by the exact way. */
const STATES = 60_000;
/** Rounds of moving runs about. */
const ROUNDS = 30;
const MINUTES_AN_HOUR = 60;

/** Bits changed within a run: its programs stand in their order on one mounting. */
const within = (run: Run): number => run.bits.filter((b, k) => k > 0 && b !== run.bits[k - 1]).length;

/** What comes between two runs. @param before undefined at the very first: its bit and its jaws are to be put in */
function between(before: Run | undefined, run: Run): { bits: number; jaws: boolean } {
  if (!before) return { bits: run.bits.length ? 1 : 0, jaws: true };
  return { bits: run.bits.length && before.bits.at(-1) !== run.bits[0] ? 1 : 0, jaws: before.blank !== run.blank };
}
const costOf = (shop: Shop, before: Run | undefined, run: Run): number => {
  const { bits, jaws } = between(before, run);
  return bits * shop.bitChange_min + (jaws ? shop.jaws_min : 0);
};

/**
 * Orders the runs of every bench.
 * @param runs quantities whole and ≥ 0, minutes ≥ 0 @returns one list for each bench, in the order of their first runs
 * @throws RangeError for a quantity or a time that is none
 */
export function orderOfWork(runs: readonly Run[], shop: Shop = SHOP): RunList[] {
  for (const r of runs)
    if (!(Number.isInteger(r.quantity) && r.quantity >= 0 && r.machine_min >= 0 && Number.isFinite(r.machine_min)))
      throw new RangeError(
        `${r.id}: quantity ${r.quantity}, ${r.machine_min} min: whole and finite numbers were expected`,
      );
  if (!(shop.hoursADay > 0)) throw new RangeError(`a day of ${shop.hoursADay} hours, more than none was expected`);
  const benches = [...new Set(runs.map((r) => r.bench))];
  return benches.map((bench) =>
    listFor(
      bench,
      runs.filter((r) => r.bench === bench && r.quantity > 0),
      shop,
    ),
  );
}

function listFor(bench: string, runs: readonly Run[], shop: Shop): RunList {
  const sequence = sequenceOf(runs, shop);
  const inside = sequence.reduce((sum, r) => sum + within(r), 0) * shop.bitChange_min;
  const lines: RunLine[] = [];
  const day = shop.hoursADay * MINUTES_AN_HOUR;
  const numbers = new Map<Run, number>();
  let at = { day: 1, min: 0 };
  sequence.forEach((run, k) => {
    const { bits, jaws } = between(sequence[k - 1], run);
    const bitChanges = bits + within(run);
    const minutes = bitChanges * shop.bitChange_min + (jaws ? shop.jaws_min : 0) + shop.mount_min + run.machine_min;
    // What would not be done by the evening is begun in the morning; what is longer than a day has days of its own.
    if (at.min > 0 && at.min + minutes > day) at = { day: at.day + 1, min: 0 };
    const number = (numbers.get(run) ?? 0) + 1;
    numbers.set(run, number);
    lines.push({ run, number, day: at.day, from_min: at.min, to_min: at.min + minutes, bitChanges, jaws });
    at.min += minutes;
    if (at.min > day) at = { day: at.day + Math.ceil(at.min / day), min: 0 };
  });
  const days = [...new Set(lines.map((l) => l.day))].map((number): DayOfWork => {
    const mine = lines.filter((l) => l.day === number);
    const sum = (f: (l: RunLine) => number) => mine.reduce((s, l) => s + f(l), 0);
    return {
      day: number,
      minutes: sum((l) => l.to_min - l.from_min),
      machine_min: sum((l) => l.run.machine_min),
      bitChanges: sum((l) => l.bitChanges),
      jaws: sum((l) => Number(l.jaws)),
      sticks: mine.length,
      pieces: sum((l) => l.run.pieces),
    };
  });
  return {
    bench,
    lines,
    days,
    bitChanges: lines.reduce((s, l) => s + l.bitChanges, 0),
    jaws: lines.filter((l) => l.jaws).length,
    setup_min: setupOf(sequence, shop) + inside,
    bound_min: boundOf(runs, shop) + inside,
  };
}

const setupOf = (sequence: readonly Run[], shop: Shop): number =>
  sequence.reduce((sum, r, k) => sum + costOf(shop, sequence[k - 1], r), 0);

/** Runs that no order can tell apart count as one kind. */
const kindOf = (r: Run): string => JSON.stringify([r.blank, r.bits[0], r.bits.at(-1)]);

function sequenceOf(runs: readonly Run[], shop: Shop): Run[] {
  const byKind = new Map<string, Run[]>();
  for (const r of runs) byKind.set(kindOf(r), [...(byKind.get(kindOf(r)) ?? []), r]);
  const kinds = [...byKind.values()];
  const counts = kinds.map((k) => k.reduce((sum, r) => sum + r.quantity, 0));
  const states = counts.reduce((n, c) => Math.min(Number.MAX_SAFE_INTEGER, n * (c + 1)), kinds.length);
  const order =
    states <= STATES
      ? exactly(
          kinds.map((k) => k[0]!),
          counts,
          shop,
        )
      : nearly(
          kinds.map((k) => k[0]!),
          counts,
          shop,
        );
  // Within a kind in the order in which the runs were given.
  const queues = kinds.map((k) => k.flatMap((r) => new Array<Run>(r.quantity).fill(r)));
  return order.map((kind) => queues[kind]!.shift()!);
}

/** @returns indices of kinds in the best order */
function exactly(kinds: readonly Run[], counts: readonly number[], shop: Shop): number[] {
  const left = [...counts];
  const known = new Map<string, { cost: number; kind: number }>();
  const best = (before: number): { cost: number; kind: number } => {
    const key = `${before}|${left.join()}`;
    const answer = known.get(key);
    if (answer) return answer;
    let found = { cost: left.some((c) => c > 0) ? Infinity : 0, kind: -1 };
    for (let kind = 0; kind < kinds.length; kind++) {
      if (left[kind] === 0) continue;
      left[kind]!--;
      const cost = costOf(shop, kinds[before], kinds[kind]!) + best(kind).cost;
      left[kind]!++;
      if (cost < found.cost - 1e-9) found = { cost, kind };
    }
    known.set(key, found);
    return found;
  };
  const order: number[] = [];
  for (let next = best(-1); next.kind >= 0; next = best(order.at(-1)!)) {
    order.push(next.kind);
    left[next.kind]!--;
  }
  return order;
}

/**
 * Blank after blank, each run through in as few trails as there can be: a run leads from its first bit to its last, a change of bit
 * is saved where one begins with the bit that the one before it ended with, so the runs of a blank are the arcs of a graph and
 * the fewest trails over all arcs are found as Hierholzer finds a round trip (1873). Then trails are moved about while that helps.
 */
function nearly(kinds: readonly Run[], counts: readonly number[], shop: Shop): number[] {
  const blanks = [...new Set(kinds.map((k) => k.blank))];
  const blocks = blanks.flatMap((blank) => trailsOf(kinds, counts, (k) => k.blank === blank));
  const cost = (list: readonly (readonly number[])[]) =>
    list.reduce((sum, b, k) => sum + costOf(shop, k > 0 ? kinds[list[k - 1]!.at(-1)!] : undefined, kinds[b[0]!]!), 0);
  let now = cost(blocks);
  for (let round = 0, moved = true; moved && round < ROUNDS && blocks.length <= MOVED; round++) {
    moved = false;
    for (let i = 0; i < blocks.length; i++)
      for (let j = 0; j < blocks.length; j++) {
        if (i === j) continue;
        const [block] = blocks.splice(i, 1);
        blocks.splice(j, 0, block!);
        const then = cost(blocks);
        if (then < now - 1e-9) {
          now = then;
          moved = true;
          continue;
        }
        blocks.splice(j, 1);
        blocks.splice(i, 0, block!);
      }
  }
  return blocks.flat();
}

/** The fewest trails over all runs of some kinds. @returns indices of kinds, trail by trail */
function trailsOf(kinds: readonly Run[], counts: readonly number[], of: (kind: Run) => boolean): number[][] {
  const out = new Map<string, number[]>();
  const surplus = new Map<string, number>();
  const bits = new Set<string>();
  kinds.forEach((kind, k) => {
    if (!of(kind)) return;
    const [from, to] = endsOf(kind);
    for (const bit of [from, to]) bits.add(bit);
    out.set(from, [...(out.get(from) ?? []), ...new Array<number>(counts[k]!).fill(k)]);
    surplus.set(from, (surplus.get(from) ?? 0) + counts[k]!);
    surplus.set(to, (surplus.get(to) ?? 0) - counts[k]!);
  });
  const walk = (from: string): number[] => {
    const trail: number[] = [];
    for (let at = from; out.get(at)?.length; at = endsOf(kinds[trail.at(-1)!]!)[1]) trail.push(out.get(at)!.shift()!);
    return trail;
  };
  const trails: number[][] = [];
  for (const bit of bits) for (let n = surplus.get(bit) ?? 0; n > 0; n--) trails.push(walk(bit));
  // What is left runs in circles: each is let into a trail that passes by, or is a trail of its own.
  const letIn = (trail: number[]) => {
    for (let i = 0; i <= trail.length; i++) {
      const at = i < trail.length ? endsOf(kinds[trail[i]!]!)[0] : endsOf(kinds[trail[i - 1]!]!)[1];
      if (out.get(at)?.length) trail.splice(i, 0, ...walk(at));
    }
  };
  for (const trail of trails) letIn(trail);
  for (const bit of bits)
    while (out.get(bit)?.length) {
      const trail = walk(bit);
      letIn(trail);
      trails.push(trail);
    }
  return trails;
}

const endsOf = (run: Run): [string, string] => [run.bits[0] ?? '', run.bits.at(-1) ?? ''];

/** More blocks than this are left in the order of the first way. */
const MOVED = 80;

/**
 * The least that changing bits and setting jaws takes in any order: every kind of blank asks for the jaws once, and no order has
 * fewer changes of bit between its runs than there are trails over all of them, whatever their blanks.
 */
function boundOf(runs: readonly Run[], shop: Shop): number {
  if (!runs.length) return 0;
  const trails = trailsOf(
    runs,
    runs.map((r) => r.quantity),
    () => true,
  ).length;
  const bits = runs.every((r) => r.bits.length) ? trails * shop.bitChange_min : 0;
  return new Set(runs.map((r) => r.blank)).size * shop.jaws_min + bits;
}
