/** Planned moves, before they become text. A move says where the tip goes and how fast the contact should travel. */

/** rapid: lift, travel or drop through air, unordered among axes; link: through air at feed, axes together; cut: in wood. */
export const RAPID = 0;
export const LINK = 1;
export const CUT = 2;
export type MoveKind = typeof RAPID | typeof LINK | typeof CUT;

export type StageName = 'corners' | 'roughing' | 'finishing' | 'grooves' | 'holes' | 'necking';

/** Positions after each move, one row a move; the first row is reached from wherever the bit was (always a lift first). */
export interface Moves {
  readonly count: number;
  readonly kind: Uint8Array;
  /** Tip: x mm, radius of the tip above the rotary centre mm, rotary angle radians (unwrapped, as the plan turns it). */
  readonly x: Float64Array;
  readonly r: Float64Array;
  readonly theta: Float64Array;
  /** Wanted speed of the contact point over the work, mm/min; 0 for rapids. */
  readonly feed: Float64Array;
}

/** One sweep of a stage. Every pass starts and ends lifted clear of the wood. */
export interface Pass {
  readonly stage: StageName;
  /** One plain line for the program's comment, e.g. `layer 2 of 5, corner 180`. */
  readonly label: string;
  readonly moves: Moves;
}

/** Collects moves; grows as needed. */
export class MoveBuilder {
  private n = 0;
  private kinds = new Uint8Array(256);
  private rows = new Float64Array(256 * 4);

  get count(): number {
    return this.n;
  }

  add(kind: MoveKind, x: number, r: number, theta: number, feed = 0): void {
    if (this.n === this.kinds.length) {
      const kinds = new Uint8Array(this.n * 2);
      kinds.set(this.kinds);
      this.kinds = kinds;
      const rows = new Float64Array(this.n * 8);
      rows.set(this.rows);
      this.rows = rows;
    }
    this.kinds[this.n] = kind;
    this.rows.set([x, r, theta, feed], this.n * 4);
    this.n++;
  }

  rapid(x: number, r: number, theta: number): void {
    this.add(RAPID, x, r, theta);
  }

  link(x: number, r: number, theta: number, feed: number): void {
    this.add(LINK, x, r, theta, feed);
  }

  cut(x: number, r: number, theta: number, feed: number): void {
    this.add(CUT, x, r, theta, feed);
  }

  /** The last position, or undefined before the first move. */
  last(): { x: number; r: number; theta: number } | undefined {
    const i = (this.n - 1) * 4;
    return this.n ? { x: this.rows[i]!, r: this.rows[i + 1]!, theta: this.rows[i + 2]! } : undefined;
  }

  moves(): Moves {
    const column = (c: number) => Float64Array.from({ length: this.n }, (_, i) => this.rows[i * 4 + c]!);
    return {
      count: this.n,
      kind: this.kinds.slice(0, this.n),
      x: column(0),
      r: column(1),
      theta: column(2),
      feed: column(3),
    };
  }
}
