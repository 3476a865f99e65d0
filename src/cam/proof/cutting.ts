/** Judges one bit at work: every place that it takes wood from, in the order of the motions. */
import {
  HEAD_ON_AREA,
  HEAD_ON_PAUSE,
  HEAD_ON_TRAVEL,
  LIMIT_SLACK,
  STEP_DOWN_SHARE,
  STEP_DOWN_SLACK,
} from '../../../shared/tolerances.ts';
import { degrees, radians, TURN } from '../../../shared/units.ts';
import type { Field } from '../../profiles/field.ts';
import { mayDip, type Stem, stemDip, stemsOf } from './clear.ts';
import { surfaceDistance } from './depth.ts';
import type { Note } from './findings.ts';
import { STUB } from './grid.ts';
import type { Holes } from './holes.ts';
import { CLOCKWISE, COUNTER } from './motion.ts';
import { type Bite, Cutter } from './remove.ts';
import { type Shape, shapeOf } from './shape.ts';
import type { DeclaredBit } from './verdict.ts';
import { type Place, Walker } from './walk.ts';
import { IN_HOLE, type Wood } from './wood.ts';

const num = (n: number, digits = 2) => n.toFixed(digits);
/** Steeper than this a descent counts as straight down, radians: within a step the bit goes aside by less than its own rounding. */
const STRAIGHT = radians(80);
/** Way along the surface between two looks at shank and holder, mm. */
const STEM_STEP = 0.5;
/** How much steeper than told a ramp may come out of rounded words, radians. */
const RAMP_SLACK = radians(0.5);

/** A motion as it is judged. */
export interface Doing {
  readonly file: string;
  readonly line: number;
  readonly spindle: number;
  readonly rpm: number;
}

/** What all bits of a job share. */
export interface Site {
  readonly wood: Wood;
  readonly field: Field;
  readonly holes: Holes;
  readonly tolerance: number;
  readonly spindleMin: number;
  readonly spindleMax: number;
  readonly tell: (note: Note) => void;
}

export class BitAtWork {
  readonly shape: Shape;
  readonly cutter: Cutter;
  readonly stems: readonly Stem[];
  readonly declared: DeclaredBit;
  /** Deepest taken below the part's surface by this bit, mm, as far as it was told of. */
  deepest = 0;
  private readonly site: Site;
  private readonly walker: Walker;
  private doing: Doing = { file: '', line: 0, spindle: 0, rpm: 0 };
  private place: Place = { x: 0, r: 0, theta: 0 };
  private readonly pointed: boolean;
  /** Section of too tall wood met head-on, mm², and the way since the last of it; way since a too steep descent met wood, −1 for none. */
  private tallMet = 0;
  private sinceTall = 0;
  private ramped = -1;
  private shaft = 0;

  constructor(site: Site, declared: DeclaredBit) {
    this.site = site;
    this.declared = declared;
    this.shape = shapeOf(declared.bit);
    this.stems = stemsOf(declared.bit);
    this.cutter = new Cutter(site.wood, this.shape, site.tolerance / 2, (ray, row, from, to) =>
      this.onGouge(ray, row, from, to),
    );
    this.cutter.tall = declared.stepDown * STEP_DOWN_SHARE + STEP_DOWN_SLACK;
    this.walker = new Walker(this.cutter, this.shape);
    this.pointed = this.shape.kind === 'vee' || this.shape.kind === 'tapered-ball';
  }

  private tell(
    code: Note['code'],
    amount: number,
    say: string,
    fix: string,
    at: { x: number; theta: number } = this.place,
    key?: string,
  ): void {
    this.site.tell({
      code,
      severity: 'refuse',
      file: this.doing.file,
      line: this.doing.line,
      x: at.x,
      theta: at.theta,
      amount,
      say,
      fix,
      ...(key === undefined ? {} : { key }),
    });
  }

  private onGouge(ray: number, row: number, from: number, to: number): void {
    const { wood, holes, tolerance } = this.site;
    const { grid } = wood;
    const column = ray - row * grid.columns;
    if (wood.flags[ray]! & IN_HOLE && holes.allow(row, column, from, to)) return;
    const part = grid.part[ray]!;
    const depth = surfaceDistance(grid, row, column, from);
    if (depth > this.deepest && grid.region[row] !== STUB) this.deepest = depth;
    if (depth <= tolerance) return;
    const at = { x: grid.xs[row]!, theta: (column * TURN) / grid.columns };
    if (grid.region[row] === STUB)
      this.tell(
        'neck-too-thin',
        depth,
        `the neck is cut to radius ${num(from)} mm, ${num(part)} mm is needed to carry the torque`,
        'Neck less deep',
        at,
      );
    else this.gouge(depth, at);
  }

  private gouge(depth: number, at: { x: number; theta: number }): void {
    this.tell(
      'gouge',
      depth,
      `the bit cuts ${num(depth, 3)} mm below the part's surface at x ${num(at.x)}, ${num(((degrees(at.theta) % 360) + 360) % 360, 1)}° (allowed ${num(this.site.tolerance, 3)})`,
      'Lift the tip on that line, or check bit, zero and turning sense',
      at,
    );
  }

  /**
   * Cuts along one motion and judges it.
   * @returns wood taken, mm³, and the share of the motion's way on which some was taken
   */
  work(doing: Doing, from: Place, to: Place): { volume: number; cutting: number } {
    this.doing = doing;
    let volume = 0;
    let way = 0;
    let cut = 0;
    let sinceLook = STEM_STEP;
    const suspects = this.stems.filter((s) => s.what !== 'bit' && mayDip(this.site.wood, s, from, to));
    const around = Math.max(1, from.r, to.r) * Math.abs(to.theta - from.theta);
    const level = Math.hypot(to.x - from.x, around);
    const slope = to.r < from.r ? Math.atan2(from.r - to.r, level) : 0;
    if (slope < STRAIGHT) this.shaft = 0;
    this.walker.along(from, to, (place, bite, length, drop) => {
      this.place = place;
      way += length;
      if (bite.volume > 0) {
        volume += bite.volume;
        cut += length;
        this.judge(bite, length, drop, slope);
      } else {
        this.ramped = -1;
        this.sinceTall += length;
        if (this.sinceTall > HEAD_ON_PAUSE) this.tallMet = 0;
      }
      this.lookBetween(place);
      sinceLook += length;
      if (suspects.length && sinceLook >= STEM_STEP) {
        sinceLook = 0;
        this.lookAtStems(suspects, place);
      }
    });
    if (suspects.length) {
      this.place = to;
      this.lookAtStems(suspects, to);
    }
    if (volume > 0) this.judgeSpindle(volume);
    return { volume, cutting: way > 0 ? cut / way : 0 };
  }

  private lookAtStems(stems: readonly Stem[], place: Place): void {
    for (const stem of stems) {
      const dip = stemDip(this.site.wood, stem, place);
      if (dip > LIMIT_SLACK)
        this.tell(
          stem.what === 'holder' ? 'holder-contact' : 'shank-contact',
          dip,
          `the ${stem.what} (${num(2 * stem.radius, 1)} mm thick from ${num(stem.from, 1)} mm above the tip) dips ${num(dip)} mm into wood`,
          'Clamp the bit further out, take a longer bit or clear the wood beside it first',
          place,
        );
    }
  }

  /** Arrises and, for pointed bits, the very point lie between the rays: they are looked at themselves. */
  private lookBetween(place: Place): void {
    const { field, tolerance } = this.site;
    if (this.pointed && place.x > field.from && place.x < field.to) {
      let depth = field.radius(place.x, place.theta) - place.r;
      if (depth > tolerance / 2) {
        // On a shoulder itself the lower side counts.
        for (const side of [-1, 1] as const)
          depth = Math.min(depth, field.radius(place.x, place.theta, side) - place.r);
        if (depth > tolerance / 2 && !this.inHole(place)) this.deeper(depth, place);
      }
    }
    const arris = this.cutter.arrisGap(place.x, place.r, place.theta);
    if (-arris.gap > tolerance / 2 && !this.inHole(place)) this.deeper(-arris.gap, arris);
  }

  private inHole(place: Place): boolean {
    return this.site.field.holes.some(
      (h) =>
        Math.abs(h.x - place.x) < h.diameter &&
        Math.abs(Math.sin((h.theta - place.theta) / 2)) * 2 * this.site.field.maxRadius < h.diameter,
    );
  }

  /** A place between rays, `along` mm below the surface along its ray; the shortest way out is worked out beside it. */
  private deeper(along: number, at: { x: number; theta: number }): void {
    const { grid } = this.site.wood;
    const turns = at.theta / TURN;
    const column = Math.round((turns - Math.floor(turns)) * grid.columns) % grid.columns;
    let row = 0;
    while (row + 1 < grid.xs.length && grid.xs[row]! < at.x) row++;
    const radius = grid.part[row * grid.columns + column]! - along;
    const depth = Math.min(along, surfaceDistance(grid, row, column, radius));
    if (depth > this.deepest) this.deepest = depth;
    if (depth > this.site.tolerance) this.gouge(depth, at);
  }

  private judge(bite: Bite, length: number, drop: number, slope: number): void {
    const { stepDown, plunge, rampAngle_deg, bit } = this.declared;
    // Slivers are broken off, not cut: too tall wood counts once enough of it was met without a pause.
    if (bite.tallArea > 0) {
      this.tallMet += bite.tallArea;
      this.sinceTall = 0;
    } else {
      this.sinceTall += length;
      if (this.sinceTall > HEAD_ON_PAUSE) this.tallMet = 0;
    }
    if (this.tallMet > HEAD_ON_AREA && bite.tallArea > 0)
      this.tell(
        'step-down',
        bite.front,
        `the bit meets wood ${num(bite.front)} mm high head-on, its step-down is ${num(stepDown)} mm`,
        'Cut in more layers, or clear the wood in its way first',
      );
    if (bite.height > bit.fluteLength + LIMIT_SLACK)
      this.tell(
        'shank-contact',
        bite.height,
        `wood stands ${num(bite.height)} mm above the tip, the flutes are ${num(bit.fluteLength)} mm long`,
        'Cut in more layers or take a bit with longer flutes',
        this.place,
        'flutes',
      );
    if (drop <= 0) return;
    if (slope >= STRAIGHT) {
      this.shaft = Math.max(this.shaft, bite.coreTop);
      const depth = this.shaft - this.place.r;
      if (this.shaft > 0 && depth > plunge + LIMIT_SLACK + STEP_DOWN_SLACK / 3)
        this.tell(
          'plunge',
          depth,
          `the bit goes ${num(depth)} mm straight down into wood, it may go ${num(plunge)} mm`,
          'Ramp in, or come from air',
        );
    } else if (slope > radians(rampAngle_deg) + RAMP_SLACK) {
      this.ramped = bite.front <= plunge + STEP_DOWN_SLACK ? -1 : this.ramped < 0 ? 0 : this.ramped + length;
      if (this.ramped > HEAD_ON_TRAVEL)
        this.tell(
          'plunge',
          bite.front,
          `the bit goes down at ${num(degrees(slope), 1)}° with wood ${num(bite.front)} mm high before it, it may ramp at ${num(rampAngle_deg, 1)}°`,
          'Ramp more gently, or come from air',
          this.place,
          'ramp',
        );
    } else this.ramped = -1;
  }

  private judgeSpindle(volume: number): void {
    const { spindleMin, spindleMax } = this.site;
    const { spindle, rpm } = this.doing;
    if (spindle === COUNTER)
      this.tell(
        'spindle-off',
        volume,
        'the bit cuts with the spindle running backwards (M4)',
        'Start the spindle with M3',
      );
    else if (spindle !== CLOCKWISE || rpm === 0)
      this.tell(
        'spindle-off',
        volume,
        'the bit cuts while the spindle stands',
        'Start the spindle with S and M3 before the first cut',
      );
    else if (rpm < spindleMin - LIMIT_SLACK || rpm > spindleMax + LIMIT_SLACK)
      this.tell(
        'spindle-range',
        rpm,
        `the spindle is set to ${rpm} rpm, the bench runs ${spindleMin} to ${spindleMax}`,
        'Set S within the range of the bench',
      );
  }
}
