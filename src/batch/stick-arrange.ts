/**
 * The order of pieces on a stick, and which way round each lies: neighbours back to back where their ends are most alike, so
 * that the wood between them can stand thick while they are cut, and the thickest end at the chuck, where all torque passes.
 * Exact for what a stick holds (dynamic programming over what is still to be placed); beyond `STATES` the nearest end follows.
 */

/** One kind of piece. */
export interface Arrangeable {
  /** Diameters of its chuck-side and tail-side face, mm. */
  readonly ends: readonly [chuck: number, tail: number];
  readonly quantity: number;
  /** Whether it may lie the other way round. */
  readonly turnable: boolean;
}

export interface Arranged {
  /** From the chuck on: kind and way round. */
  readonly order: readonly { readonly kind: number; readonly turned: boolean }[];
  /** Sum of the differences of diameter between mating ends, mm, the chuck's side of the first counted against the thickest end. */
  readonly unlike: number;
  /** Whether no order is better. */
  readonly exact: boolean;
}

/** Orders looked at: beyond this many states the nearest end follows. */
const STATES = 40_000;

/** @param kinds quantities ≥ 0, at least one piece altogether */
export function arrange(kinds: readonly Arrangeable[]): Arranged {
  const thickest = Math.max(...kinds.filter((k) => k.quantity > 0).flatMap((k) => k.ends));
  const near = (kind: number, turned: boolean) => kinds[kind]!.ends[turned ? 1 : 0];
  const far = (kind: number, turned: boolean) => kinds[kind]!.ends[turned ? 0 : 1];
  const ways = (kind: number) => (kinds[kind]!.turnable ? [false, true] : [false]);
  const states = kinds.reduce((n, k) => n * (k.quantity + 1), 2 * kinds.length);
  const left = kinds.map((k) => k.quantity);
  if (states > STATES) return inTurn(kinds, thickest);

  // The best way to place what is left behind an end of some kind; ends of one diameter share their answers.
  const known = new Map<string, { unlike: number; kind: number; turned: boolean } | undefined>();
  const best = (before: number): { unlike: number; kind: number; turned: boolean } | undefined => {
    const key = `${before}|${left.join()}`;
    if (known.has(key)) return known.get(key);
    let found: { unlike: number; kind: number; turned: boolean } | undefined;
    for (let kind = 0; kind < kinds.length; kind++) {
      if (left[kind] === 0) continue;
      for (const turned of ways(kind)) {
        left[kind]!--;
        const rest = best(far(kind, turned));
        left[kind]!++;
        const unlike = Math.abs(before - near(kind, turned)) + (rest?.unlike ?? 0);
        if (!found || unlike < found.unlike - 1e-9) found = { unlike, kind, turned };
      }
    }
    known.set(key, found);
    return found;
  };
  const order: { kind: number; turned: boolean }[] = [];
  const unlike = best(thickest)?.unlike ?? 0;
  for (let before = thickest, next = best(before); next; next = best(before)) {
    order.push({ kind: next.kind, turned: next.turned });
    left[next.kind]!--;
    before = far(next.kind, next.turned);
  }
  return { order, unlike, exact: true };
}

/** The nearest end follows. */
function inTurn(kinds: readonly Arrangeable[], thickest: number): Arranged {
  const left = kinds.map((k) => k.quantity);
  const order: { kind: number; turned: boolean }[] = [];
  let before = thickest;
  let unlike = 0;
  for (;;) {
    let next: { kind: number; turned: boolean; apart: number } | undefined;
    kinds.forEach((k, kind) => {
      if (left[kind] === 0) return;
      for (const turned of k.turnable ? [false, true] : [false]) {
        const apart = Math.abs(before - k.ends[turned ? 1 : 0]);
        if (!next || apart < next.apart - 1e-9) next = { kind, turned, apart };
      }
    });
    if (!next) return { order, unlike, exact: false };
    order.push({ kind: next.kind, turned: next.turned });
    unlike += next.apart;
    left[next.kind]!--;
    before = kinds[next.kind]!.ends[next.turned ? 0 : 1];
  }
}
