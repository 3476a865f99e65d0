/** How long the wood beside the form must be, what lies there that nothing may touch, and where the blank's ends come. */
import type { Bench } from '../../shared/catalog.ts';
import type { Change, Problem } from '../../shared/problems.ts';
import { CLEARANCE, SAME_X } from '../../shared/tolerances.ts';
import { TURN } from '../../shared/units.ts';
import type { Holding, KeepOut } from '../cam/blank.ts';
import type { Job, Tool } from '../cam/job.ts';
import type { Part } from '../part/document.ts';
import type { Field } from '../profiles/field.ts';

/** Length of the stub beside a form's end, its outer end, and the wood beyond it up to chuck or tailstock. */
export interface EndRoom {
  /** Turned beside the form; 0 where the form's end keeps the blank's section. */
  readonly turned: number;
  /** From the form to the jaws, or to the stock's end at the tailstock. */
  readonly whole: number;
}

/** The tailstock's centre sinks into the wood; wood around it must not split, mm (common practice, no source). */
const CENTRE_DEPTH = 8;

const everyTool = (tools: Job['tools']): Tool[] => [tools.roughing, tools.finishing, ...tools.detail, ...tools.drills];

/** Whether the form keeps the blank's section at one of its ends. */
const keptAt = (field: Field, x: number): boolean => field.kept.some((k) => k.from - SAME_X <= x && x <= k.to + SAME_X);

/**
 * The room beside one end of the form.
 * @param x the form's end, mm @param obstacle radius of what stands beyond the wood there, mm
 * @param stubRadius to which bits go down beside an end that is turned, mm
 */
function roomAt(field: Field, x: number, tools: Job['tools'], obstacle: number, stubRadius: number): EndRoom {
  const used = everyTool(tools);
  const kept = keptAt(field, x);
  const lowest = kept ? lowestAt(field, x) : stubRadius;
  // The thickest bit stands wholly beside the form and still clears the shoulder that it leaves on its far side.
  const turned = kept ? 0 : Math.ceil(Math.max(...used.map((t) => t.bit.diameter)) + CLEARANCE);
  const outermost = used.map(({ bit }) => {
    // Bits stand over the form's end itself where it keeps its section, else at most their radius inside the turned length.
    const centre = kept ? 0 : turned - bit.diameter / 2;
    const low = lowest + bit.stickOut < obstacle + CLEARANCE;
    return centre + Math.max(bit.shank, bit.diameter, low ? bit.holder : 0) / 2;
  });
  return { turned, whole: Math.ceil(Math.max(...outermost) + CLEARANCE) };
}

const lowestAt = (field: Field, x: number): number => {
  const thetas = Float64Array.from({ length: 72 }, (_, j) => (j * TURN) / 72);
  const ring = new Float64Array(thetas.length);
  field.ring(x, thetas, ring);
  return Math.min(...ring);
};

export interface Held {
  readonly holding: Holding;
  readonly from: number;
  readonly to: number;
  /** Turned lengths beside the form, mm. */
  readonly turned: { readonly chuck: number; readonly tail: number };
}

/**
 * Places the blank along x: chuck grip, chuck stub, form, tail stub.
 * @param stubRadius to which the stubs may be turned, mm @param problems gets one where the document's lengths do not fit
 * @returns undefined where they do not fit
 */
export function held(
  part: Part,
  field: Field,
  tools: Job['tools'],
  bench: Bench,
  stubRadius: number,
  problems: Problem[],
): Held | undefined {
  const { holding: asked, blank } = part;
  const before = problems.length;
  const refuse = (path: string, message: string, allowed: string, ...changes: Change[]) =>
    problems.push({
      code: 'blank-too-small',
      severity: 'refuse',
      path,
      message,
      allowed,
      ...(changes.length ? { changes } : {}),
    });
  const tailObstacle = asked.tailstock ? bench.tailstock.bodyDiameter / 2 : 0;
  const chuck = roomAt(field, 0, tools, bench.chuck.diameter / 2, stubRadius);
  const tail = roomAt(field, field.length, tools, tailObstacle, stubRadius);
  const tailNeed = asked.tailstock ? Math.max(tail.whole, CENTRE_DEPTH) : tail.turned;
  const chuckStub = asked.chuckStub ?? chuck.whole;
  const need = (path: string, got: number, least: number, what: string) => {
    if (got < least - SAME_X)
      refuse(path, `${got} mm beside the form is too short`, `at least ${least} mm, so that ${what}`, {
        say: 'a stub just long enough',
        set: [{ path, value: null }],
      });
  };
  need('holding.chuckStub', chuckStub, chuck.whole, 'bit and holder run off the form clear of the chuck');
  const least = chuckStub + field.length + (asked.tailStub ?? tailNeed);
  let chuckGrip = asked.chuckGrip;
  let tailStub = asked.tailStub;
  if (blank.length === undefined) {
    chuckGrip ??= bench.chuck.jawDepth;
    tailStub ??= tailNeed;
  } else {
    const spare = blank.length - least;
    const smallestGrip = Math.min(bench.chuck.jawDepth, SHORTEST_GRIP);
    if (spare < (chuckGrip ?? smallestGrip) - SAME_X) {
      const wanted = Math.ceil(least + (chuckGrip ?? smallestGrip));
      refuse(
        'blank.length',
        `the stock is ${round(wanted - blank.length)} mm too short`,
        `at least ${wanted} mm: chuck grip ${chuckGrip ?? smallestGrip}, stub ${chuckStub}, form ${round(field.length)}, stub ${asked.tailStub ?? tailNeed}`,
        { say: `stock ${wanted} mm long`, set: [{ path: 'blank.length', value: wanted }] },
      );
      return undefined;
    }
    // What is left over goes into the jaws as deep as they take it, then beyond the form at the tail.
    chuckGrip ??= Math.min(bench.chuck.jawDepth, spare);
    const tailEnd = blank.length - chuckGrip - chuckStub - field.length;
    if (tailStub !== undefined && Math.abs(tailStub - tailEnd) > 0.5) {
      refuse(
        'blank.length',
        `${blank.length} mm is not the sum of its parts`,
        `${round(chuckGrip + chuckStub + field.length + tailStub)} mm, or leave one of chuckGrip, tailStub and blank.length out`,
      );
      return undefined;
    }
    tailStub = tailEnd;
  }
  need('holding.tailStub', tailStub, tailNeed, 'bit and holder run off the form clear of the tailstock');
  if (chuckGrip < SHORTEST_GRIP)
    refuse('holding.chuckGrip', `${chuckGrip} mm in the jaws does not hold`, `at least ${SHORTEST_GRIP} mm`);
  if (problems.length > before) return undefined;
  return {
    holding: {
      chuckGrip,
      chuckStub,
      tailStub,
      tailstock: asked.tailstock,
      ...(asked.tenon ? { tenon: asked.tenon } : {}),
      ...(asked.inside ? { inside: true } : {}),
    },
    from: -(chuckStub + chuckGrip),
    to: field.length + tailStub,
    turned: { chuck: chuck.turned, tail: tail.turned },
  };
}

/** Shorter than this no jaw holds turning work, mm (common practice, no source). */
const SHORTEST_GRIP = 8;
const round = (v: number): number => Number(v.toFixed(2));

/** What stands beyond the jaws, as far as any holder could swing, mm. */
const BEYOND = 400;

/** Chuck and tailstock as solids that nothing may touch. @param at the blank's place, from `held` */
export function keepOuts(bench: Bench, at: Held): KeepOut[] {
  const { chuck, tailstock } = bench;
  const face = -at.holding.chuckStub;
  const list: KeepOut[] = [{ from: face - chuck.length, to: face, radius: chuck.diameter / 2, what: 'chuck' }];
  if (at.holding.tailstock)
    list.push(
      // The nose is a cone that starts in the wood; its full thickness from the wood on is on the safe side.
      { from: at.to, to: at.to + tailstock.bodyFrom, radius: tailstock.diameter / 2, what: 'tailstock centre' },
      { from: at.to + tailstock.bodyFrom, to: at.to + BEYOND, radius: tailstock.bodyDiameter / 2, what: 'tailstock' },
    );
  for (const b of bench.brackets ?? [])
    list.push({ from: face + b.from, to: face + b.to, radius: b.height, what: b.label });
  return list;
}
