/**
 * The contact kernel: how low a bit's tip may go at (x, θ) without taking anything of the part,
 *
 *     z*(x, θ) = max over the surface under the bit of ( z − h(d) ),  z = r·cos δ,  y = r·sin δ,  d = hypot(x′ − x, y − y₀).
 *
 * Samples find the candidates (contact-grid, contact-knots, contact-search), exact values of the field settle them
 * (contact-probe), so what is found is the value of a real point of the surface: never above the exact answer (but for
 * the rounding of the samples' single precision, 0.00001 mm), and below it by no more than the sampling can miss. That
 * is added: CONTACT_GUARD where the section is not round. On round stretches the question is one along x alone; the
 * answers are kept in a table (contact-round) whose cells are split until straight lines serve.
 *
 * Promise, for surfaces whose features are wider than the spacing of the samples (0.05 to 0.2 mm, by the bit) or are
 * announced as breaks: exact − CONTACT_BELOW ≤ answer ≤ exact + CONTACT_ABOVE. The field is a black box, so this is
 * measured against brute force, closed forms and solids, not proven.
 */
import type { Bit } from '../../shared/catalog.ts';
import { CONTACT_GUARD } from '../../shared/tolerances.ts';
import type { Surface } from '../profiles/field.ts';
import { profileHeight, profileOf } from './bit.ts';
import { Grid } from './contact-grid.ts';
import { Probe } from './contact-probe.ts';
import { RoundTable } from './contact-round.ts';
import { Search } from './contact-search.ts';

/** Answers where the tip of one bit may stand over one surface. */
export interface Contact {
  /**
   * Lowest tip radius that takes nothing of the surface; at least exact − CONTACT_BELOW and at most exact + CONTACT_ABOVE.
   * @param x place along the axis, mm @param theta angle that faces the bit, radians, any turn
   * @param y0 offset of the bit's axis from the centre plane, mm, default 0
   * @returns mm ≥ 0; 0 where no surface is under the bit
   */
  lowest(x: number, theta: number, y0?: number): number;
  /**
   * `lowest` with y0 = 0 for many positions of one path in their order, quicker: it starts each search at the last
   * contact and settles fewer candidates; the same promise, the last micrometres may differ.
   * @param xs mm @param thetas radians @param out filled with mm
   */
  along(xs: Float64Array, thetas: Float64Array, out: Float64Array): void;
  /** What has been done so far: exact radii asked, samples looked at, answers from the round table, answers searched. */
  readonly work: {
    readonly exact: number;
    readonly samples: number;
    readonly table: number;
    readonly searched: number;
  };
}

/** Spacing of the samples for a bit: finer for a smaller tip, since what is missed goes with spacing²/radius. */
function spacingFor(bit: Bit): number {
  const R = bit.diameter / 2;
  const tip = bit.kind === 'ball' ? R : bit.tipRadius;
  if (tip > 0) return Math.min(0.15, Math.max(0.05, 0.09 * Math.sqrt(tip)));
  return Math.min(bit.kind === 'vee' ? 0.1 : 0.2, Math.max(0.05, R / 25));
}

/**
 * Prepares the answers for one bit over one surface; samples are made when a place is first asked about.
 * @param options from, to: ends of the material along x, mm (default the surface's own): nothing stands beyond them
 */
export function contactFor(surface: Surface, bit: Bit, options: { from?: number; to?: number } = {}): Contact {
  const from = options.from ?? surface.from;
  const to = options.to ?? surface.to;
  const profile = profileOf(bit);
  const grid = new Grid(surface, from, to, spacingFor(bit));
  const probe = new Probe(surface, (d) => profileHeight(profile, d), profile.radius, from, to);
  const search = new Search(grid, probe, profile);
  let searched = 0;
  let table = 0;

  const ask = (x: number, theta: number, y0: number, seedX: number, seedDelta: number, thorough: boolean): number => {
    searched++;
    const v = search.run(x, theta, y0, seedX, seedDelta, thorough);
    if (v === -Infinity) return 0;
    return Math.max(0, search.allRound ? v : v + CONTACT_GUARD);
  };
  const round = new RoundTable(grid, profile.radius, (x) => ask(x, 0, 0, Number.NaN, 0, true));

  return {
    lowest: (x, theta, y0 = 0) => {
      if (y0 === 0) {
        const v = round.at(x);
        if (!Number.isNaN(v)) {
          table++;
          return v;
        }
      }
      return ask(x, theta, y0, Number.NaN, 0, true);
    },
    along: (xs, thetas, out) => {
      let seedX = Number.NaN;
      let seedDelta = 0;
      for (let i = 0; i < xs.length; i++) {
        const x = xs[i]!;
        const v = round.at(x);
        if (!Number.isNaN(v)) {
          table++;
          out[i] = v;
          continue;
        }
        out[i] = ask(x, thetas[i]!, 0, seedX, seedDelta, false);
        seedX = search.touchX;
        seedDelta = search.touchDelta;
      }
    },
    get work() {
      return { exact: grid.asked + probe.asked, samples: search.seen, table, searched };
    },
  };
}
