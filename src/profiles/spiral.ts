/** Spiral grooves of one or both hands: a section laid square across helices on the form. */
import { choice, count, deg, mm } from '../../shared/schema.ts';
import { radians, TURN } from '../../shared/units.ts';
import { type Cutter, fromNearest, type Ground, helix, range, runOut, turns, type Wrong } from './carving.ts';
import { guideLine } from './guide.ts';
import { BOTH_TOLD, pitch, turnsOf } from './pitch.ts';
import { depthShare, depthShares, type Reach } from './reach.ts';

/** The walls of a flat-bottomed groove lean out by this much, so that the surface stays one radius for each angle. */
const LEAN = Math.tan(radians(15));

export const spiral = {
  ...range,
  starts: count({ label: 'starts', description: 'How many grooves run side by side.', min: 1, max: 96, step: 1 }),
  section: choice(['round', 'vee', 'flat'], {
    label: 'section',
    description: 'Shape across: an arc, a vee, or a flat bottom between leaning walls; left out, round.',
  }).optional(),
  width: mm({
    label: 'width',
    description: 'Width at the surface, square across the groove.',
    min: 0.1,
    max: 100,
    step: 0.1,
  }),
  depth: mm({
    label: 'depth',
    description: 'How deep its middle lies below the surface.',
    min: 0.05,
    max: 100,
    step: 0.1,
  }),
  turns: turns.optional(),
  pitch: pitch.optional(),
  turned: deg({
    label: 'turned',
    description: 'Angle at which the first one starts, from the top flat of the blank.',
    min: -360,
    max: 360,
    step: 1,
  }).optional(),
  ...runOut,
};

interface Spiral {
  starts: number;
  section?: 'round' | 'vee' | 'flat' | undefined;
  width: number;
  depth: number;
  turns?: number | undefined;
  pitch?: number | undefined;
  turned?: number | undefined;
}

/** Depth at a distance s from the groove's middle, lifted out by `lift`; and where it ends and bends. All mm. */
interface Across {
  depth(s: number, lift: number): number;
  half(lift: number): number;
  bends(lift: number): number[];
  /** Half the width of its level bottom. */
  level: number;
  bottomRadius: number;
}

function across(section: 'round' | 'vee' | 'flat', width: number, depth: number): Across {
  const w = width / 2;
  if (section === 'vee')
    return {
      depth: (s, lift) => depth - lift - (s * depth) / w,
      half: (lift) => w * (1 - lift / depth),
      bends: () => [0],
      level: 0,
      bottomRadius: 0,
    };
  if (section === 'flat')
    return {
      depth: (s, lift) => Math.min(depth, (w - s) / LEAN) - lift,
      half: (lift) => w - lift * LEAN,
      bends: () => [w - depth * LEAN, depth * LEAN - w],
      level: w - depth * LEAN,
      bottomRadius: 0,
    };
  const arc = (w * w + depth * depth) / (2 * depth);
  return {
    depth: (s, lift) => Math.sqrt(Math.max(0, arc * arc - s * s)) - (arc - depth) - lift,
    half: (lift) => Math.sqrt(Math.max(0, (depth - lift) * (2 * arc - depth + lift))),
    bends: () => [],
    level: 0,
    bottomRadius: arc,
  };
}

/** @param hands one sign for each set of helices, +1 right and −1 left; where two sets cross, the deeper counts */
export function spiralCutter(c: Spiral, hands: readonly (1 | -1)[], reach: Reach, ground: Ground): Cutter | Wrong {
  const { girth } = ground;
  const width = c.width * girth;
  const depth = c.depth * girth;
  const section = c.section ?? 'round';
  if (c.turns !== undefined && c.pitch !== undefined) return BOTH_TOLD;
  if (section === 'round' && depth > width / 2)
    return {
      at: 'depth',
      message: `a round groove ${c.width} mm wide is a full half-round at ${c.width / 2} mm`,
      allowed: `at most ${c.width / 2} mm, or a wider groove`,
    };
  if (section === 'flat' && depth * LEAN >= width / 2)
    return {
      at: 'depth',
      message: `the walls of a groove ${c.width} mm wide meet before it is ${c.depth} mm deep`,
      allowed: `less than ${(c.width / 2 / LEAN).toFixed(2)} mm, or a wider groove`,
    };
  const form = across(section, width, depth);
  const step = TURN / c.starts;
  const wound = turnsOf(c, reach);
  const rate = (wound * TURN) / (reach.to - reach.from);
  const lines = hands.map((sign) =>
    helix({ turned: c.turned, turns: wound, hand: sign < 0 ? 'left' : 'right' }, reach),
  );
  // A helix on radius r leans so that an arc r·Δθ lies r·Δθ·cos(lean) from it.
  const perRadian = (r0: number) => r0 / Math.hypot(1, r0 * rate);
  const turned = hands.map(() => 0);
  let scale = 0;
  let lift = 0;
  const depthFrom = (middle: number, theta: number): number =>
    form.depth(Math.abs(fromNearest(theta - middle, step)) * scale, lift);
  const deepestAt = (theta: number): number => {
    let deepest = 0;
    for (let h = 0; h < turned.length; h++) {
      const d = depthFrom(turned[h]!, theta);
      if (d > deepest) deepest = d;
    }
    return deepest;
  };
  return {
    reach,
    symmetry: c.starts,
    at(x, side, r0) {
      const share = depthShare(reach, x, side);
      if (share <= 0) return false;
      lift = depth * (1 - share);
      scale = perRadian(r0);
      for (let h = 0; h < turned.length; h++) turned[h] = lines[h]!(x);
      return true;
    },
    cut: (r, theta) => r - deepestAt(theta),
    bounds(x0, x1, _r0Low, r0High, least, most) {
      const [shallow, deep] = depthShares(reach, x0, x1);
      // Grooves so close that they meet leave a crest below the surface.
      const crest = form.depth((perRadian(r0High) * step) / 2, depth * (1 - shallow));
      return [least - depth * deep, most - Math.max(0, crest)];
    },
    creases() {
      const half = form.half(lift) / scale;
      const own = [...(half < step / 2 ? [-half, half] : [step / 2]), ...form.bends(lift).map((s) => s / scale)];
      const found: number[] = [];
      const apart = turned.length === 2 ? fromNearest(turned[1]! - turned[0]!, step) : 0;
      // Where the two hands run into one, there is but one set.
      const sets = Math.abs(apart) * scale > HIDDEN ? turned : turned.slice(0, 1);
      for (const [h, middle] of sets.entries())
        for (let k = 0; k < c.starts; k++)
          for (const off of own) {
            const theta = middle + k * step + off;
            const other = sets[1 - h];
            if (other === undefined || depthFrom(other, theta) < depthFrom(middle, theta) - HIDDEN) found.push(theta);
          }
      // Two hands meet in a ridge half-way between their middles, unless they are level there.
      if (sets.length === 2)
        for (let k = 0; k < 2 * c.starts; k++) {
          const theta = turned[0]! + apart / 2 + (k * step) / 2;
          const aside = Math.abs(fromNearest(theta - turned[0]!, step)) * scale;
          if (aside > form.level + HIDDEN && form.depth(aside, lift) > HIDDEN) found.push(theta);
        }
      return found;
    },
    guides: lines.flatMap((line, h) =>
      Array.from({ length: c.starts }, (_, k) => ({
        kind: 'groove' as const,
        label: `groove ${h * c.starts + k + 1}`,
        line: guideLine(reach.from, reach.to, (x) => line(x) + k * step),
        width,
        depth,
        bottomRadius: form.bottomRadius,
      })),
    ),
  };
}

/** Depths and distances nearer than this are one: far above rounding, far below anything that shows, mm. */
const HIDDEN = 1e-9;
