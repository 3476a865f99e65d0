/** From a checked part document to a job: names looked up, the blank placed, bits chosen, limits known. */
import { benches, controls, materials } from '../shared/catalog.ts';
import type { Problem } from '../shared/problems.ts';
import { CENTRING, CLEARANCE } from '../shared/tolerances.ts';
import { type Blank, innerRadius, outerRadius } from './cam/blank.ts';
import type { Ease } from './cam/ease.ts';
import { easeOf } from './cam/easing.ts';
import type { Job, Tool } from './cam/job.ts';
import { bitForce, stubRadiusFor } from './cam/strength.ts';
import type { Part } from './part/document.ts';
import { fieldOf } from './profiles/build-field.ts';
import type { Field } from './profiles/field.ts';
import { formSection, sectionSize } from './resolve/blank.ts';
import { held, keepOuts } from './resolve/holding.ts';
import { holdsForm } from './resolve/holds-form.ts';
import { lookUp } from './resolve/lookup.ts';
import { partingsOf } from './resolve/partings.ts';
import { toolsFor } from './resolve/tools.ts';

export type Resolved = { job: Job; problems: Problem[] } | { job?: undefined; problems: Problem[] };

/** No stub is turned thinner: the tailstock's point would split it, a saw would tear it, mm (common practice, no source). */
const THINNEST_STUB = 4;

/** Wood that stays round a tube's bore beside the form, mm: thinner it crumbles in the saw (common practice, no source). */
const STUB_WALL = 3;

/** Carvings that detail bits cut after the finishing bit; it need not fit into them. */
const DETAIL_CARVINGS = ['flutes', 'reeds', 'groove', 'crossed', 'holes'];

/** Largest radius of one end of the form, mm. */
const endRadius = (field: Field, x: number): number => field.bounds(x, x)[1];

/**
 * Resolves a part.
 * @param part checked, lengths in mm
 * @returns the job, with what is worth saying about it; or no job and at least one problem of severity `refuse`
 */
export function resolvePart(part: Part): Resolved {
  const problems: Problem[] = [];
  const material = lookUp(part.blank.material, materials, 'blank.material', 'material', problems);
  const bench = lookUp(part.bench, benches, 'bench', 'bench', problems);
  const control = lookUp(part.control, controls, 'control', 'control', problems);

  // A width that the document leaves out follows from the form; a pommel needs it told.
  const bare = part.blank.width === undefined ? fieldOf(part) : undefined;
  const pommel = part.form.findIndex((e) => e.element === 'pommel');
  if (bare && pommel >= 0) {
    problems.push({
      code: 'wrong-shape',
      severity: 'refuse',
      path: 'blank.width',
      message: `is missing: form[${pommel}] keeps the blank's section, so the form does not say how wide it is`,
      allowed: 'the width of your stock in mm',
    });
    return { problems };
  }
  if (bare && !bare.field) return { problems: [...problems, ...bare.problems] };
  const size = sectionSize(part.blank, bare?.field?.maxRadius ?? 0);
  const { field, problems: formProblems } = fieldOf(part, formSection(size));
  problems.push(...formProblems);
  if (!field || !material || !bench || !control) return { problems };
  const bore = part.blank.bore === undefined ? {} : { bore: part.blank.bore };
  const section: Blank = { ...size, ...bore, from: 0, to: field.length };
  const tooSmall = holdsForm(part, field, section);
  problems.push(...tooSmall);

  const corner = outerRadius(section);
  const broadCarvings = part.carvings?.filter((c) => !DETAIL_CARVINGS.includes(c.carving));
  const fine = broadCarvings && broadCarvings.length < part.carvings!.length;
  const broad = fine ? (fieldOf({ ...part, carvings: broadCarvings }, formSection(size)).field ?? field) : field;
  const tools = toolsFor(part, field, broad, corner, material, bench, problems);
  if (!tools || tooSmall.length) return { problems };
  const torque = (t: Tool) => bitForce(t, material, t.limits.stepDown, t.limits.feed) * corner;
  const hollow = part.blank.bore ?? 0;
  const thinnest = Math.max(
    THINNEST_STUB,
    hollow ? hollow / 2 + STUB_WALL : 0,
    stubRadiusFor(Math.max(torque(tools.roughing), torque(tools.finishing)), material, undefined, hollow),
  );
  const stubRadius = Math.min(innerRadius(section), Math.ceil(2 * thinnest) / 2);
  const at = held(part, field, tools, bench, stubRadius, problems);
  if (!at) return { problems };
  const { chuck, tail } = at.turned;
  const between = partingsOf(part, field, section);
  const job: Job = {
    name: part.name,
    field,
    blank: { ...size, ...bore, from: at.from, to: at.to },
    holding: at.holding,
    stubs: {
      chuck: { from: 0 - chuck, to: 0, radius: stubRadius, standing: Math.max(stubRadius, endRadius(field, 0)) },
      tail: {
        from: field.length,
        to: field.length + tail,
        radius: stubRadius,
        standing: Math.max(stubRadius, endRadius(field, field.length)),
      },
      ...(between.length ? { between } : {}),
    },
    keepOut: keepOuts(bench, at),
    material,
    bench,
    control,
    tools,
    plan: part.plan,
    ...(part.trim.radial ? { offsets: { axial: 0, radial: control.radial.scale * part.trim.radial } } : {}),
    tolerance: part.tolerance,
    // Stock that lies off the centre swings wider by as much.
    safeRadius: corner + Math.max(CENTRING, part.blank.offCentre ?? 0) + CLEARANCE,
    ...(part.blank.offCentre === undefined ? {} : { offCentre: part.blank.offCentre }),
    ...(part.blank.acknowledged === undefined ? {} : { acknowledged: part.blank.acknowledged }),
    guard: part.guard,
  };
  if (problems.some((p) => p.severity === 'refuse')) return { problems };
  return { job: eased(job), problems };
}

/** The job with its ease, worked out when it is first asked for: a slider's step that only draws the part need not wait for it. */
function eased(job: Job): Job {
  let known: { ease: Ease | undefined } | undefined;
  return {
    ...job,
    get ease() {
      known ??= { ease: easeOf(job) };
      return known.ease;
    },
  };
}
