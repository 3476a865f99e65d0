/**
 * A line's pieces on sticks: variants that can share a blank, bits and bench are nested onto the rack's lengths, each stick is
 * put in its best order and written as one part document.
 */
import type { Problem } from '../../shared/problems.ts';
import { SAME_X } from '../../shared/tolerances.ts';
import { slugOf } from '../build/slug.ts';
import { sectionArea } from '../cam/blank.ts';
import type { Job } from '../cam/job.ts';
import type { Part } from '../part/document.ts';
import { formSection, sectionSize } from '../resolve/blank.ts';
import { resolvePart } from '../resolve.ts';
import type { Variant } from './line.ts';
import { type Nested, nest, type StockLength } from './nest.ts';
import { composeStick, type OnStick } from './stick.ts';
import { arrange } from './stick-arrange.ts';
import { type Neck, neckWidth } from './stick-neck.ts';
import { type Piece, pieceOf } from './stick-piece.ts';
import { endForEnd } from './stick-turn.ts';

/** A length of stock on the rack; sections and material left out fit every group. */
export interface RackLength extends StockLength {
  readonly section?: Part['blank']['section'] | undefined;
  readonly width?: number | undefined;
  readonly height?: number | undefined;
  readonly material?: string | undefined;
}

export interface LineOptions {
  readonly rack: readonly RackLength[];
  /** What the saw takes of every cut with its play, mm; left out, 3. */
  readonly saw?: number;
  /** Pieces on one stick at the most; left out, as many as rack and bench hold. */
  readonly most?: number;
}

/** A stick to be made, perhaps several times. */
export interface LineStick {
  readonly name: string;
  readonly slug: string;
  readonly part: Part;
  readonly pieces: readonly (OnStick & { readonly slug: string })[];
  readonly times: number;
  /** Left out where a piece has a stick of its own. */
  readonly neck?: Neck;
  /** Name and length of the stock that it is sawn from, mm, and the length of the stick itself. */
  readonly stock: string;
  readonly stockLength: number;
  readonly length: number;
  /** Section of its blank, mm². */
  readonly area: number;
}

/** What one kind of blank is used for, with the bound that its nesting is held to. */
export interface LineGroup extends Pick<Nested, 'stockLength' | 'pieceLength' | 'bound' | 'optimal'> {
  /** E.g. `square 28, sugar-maple`. */
  readonly blank: string;
  readonly bench: string;
  /** Between pieces, and of each stick, mm. */
  readonly gap: number;
  readonly lost: number;
  /** The longest stick that the bench takes, mm. */
  readonly longest: number;
}

export interface LineSticks {
  readonly sticks: readonly LineStick[];
  readonly groups: readonly LineGroup[];
  /** Variants, or some of their pieces, that found no place, and why. */
  readonly left: readonly { readonly slug: string; readonly quantity: number; readonly problem: Problem }[];
}

const SAW = 3;
const idOf = (named: string | { readonly id: string }): string => (typeof named === 'string' ? named : named.id);

/** What pieces must have in common to share a stick. */
function keyOf(part: Part): string {
  const { blank, bench, control, bits, feeds, plan, holding, tolerance } = part;
  const { length: _length, ...section } = blank;
  return JSON.stringify([section, bench, control, bits, feeds, plan, holding, tolerance]);
}

const blankName = ({ section, width, height, material }: Part['blank']): string =>
  `${section} ${width}${height === undefined ? '' : ` × ${height}`}, ${idOf(material)}`;

interface Member {
  readonly variant: Variant;
  readonly piece: Piece;
  readonly turnable: boolean;
}

/** Sticks for a line. @param variants checked, lengths in mm; their blanks' widths told */
export function sticksOf(variants: readonly Variant[], options: LineOptions): LineSticks {
  const saw = options.saw ?? SAW;
  const slugs = new Set(variants.map((v) => v.slug));
  const nameOf = (n: number): string =>
    ['Stick', 'Nested stick', 'Shared stick'].map((word) => `${word} ${n}`).find((name) => !slugs.has(slugOf(name))) ??
    `Stick ${n} of the line`;
  const left: LineSticks['left'][number][] = [];
  const refuse = ({ slug, quantity }: Variant, problem: Problem) => left.push({ slug, quantity, problem });
  const families = new Map<string, Member[]>();
  for (const variant of variants) {
    const { part } = variant;
    if (part.blank.width === undefined) {
      refuse(
        variant,
        problemOf(
          'blank.width',
          'is missing: a stick is cut from stock of a known width',
          'the width of your stock in mm',
        ),
      );
      continue;
    }
    const written = pieceOf(part, formSection(sectionSize(part.blank, 0)));
    if ('problems' in written) {
      refuse(variant, written.problems[0]!);
      continue;
    }
    const key = keyOf(part);
    const member = { variant, piece: written.piece, turnable: endForEnd(written.piece) !== undefined };
    families.set(key, [...(families.get(key) ?? []), member]);
  }
  const sticks: LineStick[] = [];
  const groups: LineGroup[] = [];
  for (const family of families.values()) {
    const jobs = family.map((m) => resolvePart(m.variant.part));
    const sound = family.filter((m, k) => {
      if (!jobs[k]!.job)
        refuse(m.variant, jobs[k]!.problems.find((p) => p.severity === 'refuse') ?? jobs[k]!.problems[0]!);
      return jobs[k]!.job !== undefined;
    });
    const ready = jobs.flatMap((j) => (j.job ? [j.job] : []));
    if (!ready.length) continue;
    const gap = Math.max(...ready.map((job) => neckWidth(job, saw)));
    const lost = Math.max(...ready.map((job) => job.blank.to - job.blank.from - job.field.length));
    const longest = Math.min(...ready.map(longestStick));
    const { blank, bench } = sound[0]!.variant.part;
    const rack = options.rack.filter((r) => fits(r, blank)).flatMap((r) => sawn(r, longest, saw));
    const wanted = sound.map((m) => ({ id: m.variant.slug, length: m.piece.length, quantity: m.variant.quantity }));
    const nested = nest(wanted, rack, { gap, lost, most: options.most });
    groups.push({ ...nested, blank: blankName(blank), bench: idOf(bench), gap, lost, longest });
    for (const l of nested.left)
      left.push({
        slug: wanted[l.wanted]!.id,
        quantity: l.quantity,
        problem:
          l.why === 'too-long'
            ? problemOf(
                'length',
                `no stick on the rack holds its ${wanted[l.wanted]!.length.toFixed(1)} mm and the ${lost.toFixed(0)} mm that holding takes`,
                `stock of at least ${Math.ceil(wanted[l.wanted]!.length + lost)} mm`,
                'blank-too-small',
              )
            : problemOf('blank', 'the rack has run out of stock for it', 'more stock', 'blank-too-small'),
      });
    for (const n of nested.sticks) {
      const members = [...new Set(n.pieces)];
      const kinds = members.map((i) => ({
        ends: sound[i]!.piece.ends,
        quantity: n.pieces.filter((p) => p === i).length,
        turnable: sound[i]!.turnable,
      }));
      const order = arrange(kinds).order.map(({ kind, turned }) => ({ member: sound[members[kind]!]!, turned }));
      const name = nameOf(sticks.length + 1);
      const stick = composeStick(
        order.map(({ member, turned }) => ({ name: member.variant.name, part: member.variant.part, turned })),
        { name, saw },
      );
      if (!stick.part) {
        for (const i of members)
          left.push({
            slug: wanted[i]!.id,
            quantity: n.times * n.pieces.filter((p) => p === i).length,
            problem: stick.problems[0]!,
          });
        continue;
      }
      const job = resolvePart(stick.part).job;
      const size = sectionSize(stick.part.blank, 0);
      sticks.push({
        name,
        slug: slugOf(name),
        part: stick.part,
        pieces: stick.pieces.map((p, k) => ({ ...p, slug: order[k]!.member.variant.slug })),
        times: n.times,
        neck: stick.neck,
        stock: rack[n.stock]!.name,
        stockLength: rack[n.stock]!.length,
        length: job ? job.blank.to - job.blank.from : rack[n.stock]!.length,
        area: sectionArea({ ...size, from: 0, to: 1 }),
      });
    }
  }
  return { sticks, groups, left };
}

const problemOf = (path: string, message: string, allowed: string, code: Problem['code'] = 'wrong-shape'): Problem => ({
  code,
  severity: 'refuse',
  path,
  message,
  allowed,
});

/** Longest stick that turns between the bench's chuck and centre and lies within its travel, grip included, mm. */
function longestStick(job: Job): number {
  const { bench, holding, stubs, tools } = job;
  const widest = Math.max(tools.roughing.bit.diameter, tools.finishing.bit.diameter);
  const beside = job.blank.to - job.blank.from - job.field.length;
  const runOut = stubs.tail.to - stubs.tail.from + (stubs.chuck.to - stubs.chuck.from) + widest;
  return Math.floor(Math.min(bench.betweenCentres + holding.chuckGrip, bench.axialTravel - runOut + beside) - SAME_X);
}

const fits = (r: RackLength, blank: Part['blank']): boolean =>
  (r.section === undefined || r.section === blank.section) &&
  (r.width === undefined || r.width === blank.width) &&
  (r.height === undefined || r.height === blank.height) &&
  (r.material === undefined || r.material === idOf(blank.material));

/**
 * Stock that is longer than the bench takes is sawn into sticks of the longest length and one of what remains. Nesting then
 * takes from either; it is the least for sticks sawn so.
 */
function sawn(r: RackLength, longest: number, saw: number): RackLength[] {
  if (r.length <= longest) return [r];
  const whole = Math.floor((r.length + saw) / (longest + saw));
  const rest = r.length - whole * (longest + saw);
  const quantity = (n: number) => (r.quantity === undefined ? {} : { quantity: n * r.quantity });
  const { quantity: _all, ...kind } = r;
  const sticks: RackLength[] = [
    { ...kind, name: `${r.name}, sawn to ${longest}`, length: longest, ...quantity(whole) },
  ];
  if (rest > 0) sticks.push({ ...kind, name: `${r.name}, its rest`, length: rest, ...quantity(1) });
  return sticks;
}

/**
 * Stock that one piece of each variant takes, its share of gaps, holding and offcuts with it: all stock of one kind is shared by
 * the length of the pieces, wherever each happened to find its place. @returns mm³ by slug
 */
export function stockShares(sticks: readonly LineStick[]): Map<string, number> {
  const kinds = new Map<string, LineStick[]>();
  for (const s of sticks) {
    const key = JSON.stringify(s.part.blank);
    kinds.set(key, [...(kinds.get(key) ?? []), s]);
  }
  const shares = new Map<string, number>();
  for (const kind of kinds.values()) {
    const stock = kind.reduce((sum, s) => sum + s.times * s.stockLength * s.area, 0);
    const used = kind.reduce((sum, s) => sum + s.times * s.pieces.reduce((l, p) => l + p.to - p.from, 0), 0);
    for (const p of kind.flatMap((s) => s.pieces)) shares.set(p.slug, (stock * (p.to - p.from)) / used);
  }
  return shares;
}
