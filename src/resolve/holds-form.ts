/** Whether the blank holds the form: every element inside the stock, or the one that stands out and by how much. */
import type { Change, Problem } from '../../shared/problems.ts';
import { SAME_X } from '../../shared/tolerances.ts';
import { TURN } from '../../shared/units.ts';
import { type Blank, blankRadius, innerRadius } from '../cam/blank.ts';
import { cornersOf } from '../cam/work.ts';
import type { Part } from '../part/document.ts';
import type { Field } from '../profiles/field.ts';
import { layOut } from '../profiles/layout.ts';
import { formSection } from './blank.ts';

const STATIONS = 64;
const ANGLES = 180;
/** Surface and stock may touch: a form as thick as its blank keeps the sawn face, mm. */
const TOUCH = 1e-6;

/** How far the form stands out of the stock over [from, to], mm; ≤ 0 where it does not. */
function standsOut(field: Field, blank: Blank, from: number, to: number): number {
  const [, largest] = field.bounds(from, to);
  if (largest <= innerRadius(blank)) return 0;
  const round = field.isRound(from, to);
  const corners = cornersOf(blank);
  // A round form leaves the stock first in the middle of the nearest face; a carved one is looked at all round.
  const thetas = Float64Array.from(
    round ? [0, TURN / 4] : Array.from({ length: ANGLES }, (_, j) => (j * TURN) / ANGLES),
  );
  const limit = thetas.map((t) => blankRadius(blank, t));
  const ring = new Float64Array(thetas.length);
  let most = 0;
  const look = (x: number, side: -1 | 1) => {
    field.ring(x, thetas, ring, side);
    for (let j = 0; j < thetas.length; j++) most = Math.max(most, ring[j]! - limit[j]!);
    for (const t of [...field.creases(x, side), ...corners])
      most = Math.max(most, field.radius(x, t, side) - blankRadius(blank, t));
  };
  for (let i = 0; i <= STATIONS; i++) {
    const x = from + ((to - from) * i) / STATIONS;
    look(x, i === STATIONS ? -1 : 1);
  }
  for (const b of field.breaks)
    if (b.x > from + SAME_X && b.x < to - SAME_X) {
      look(b.x, -1);
      look(b.x, 1);
    }
  return most;
}

/** Stock that holds the form; of a rectangle both ways. */
const wider = (blank: Blank, by: number): Change => {
  const size = (value: number) => Number((value + by).toFixed(1));
  const tall = blank.section === 'rectangle' ? [{ path: 'blank.height', value: size(blank.height) }] : [];
  return {
    say: `a blank ${size(blank.width)} mm wide`,
    set: [{ path: 'blank.width', value: size(blank.width) }, ...tall],
  };
};

/** @param blank of any length @returns one problem for each element that the stock does not hold */
export function holdsForm(part: Part, field: Field, blank: Blank): Problem[] {
  const { placed } = layOut(part, formSection(blank));
  return placed.flatMap((element) => {
    // What keeps the blank's own section never stands out of it.
    if (element.outline.kept) return [];
    const over = standsOut(field, blank, element.from, element.to);
    if (over <= TOUCH) return [];
    const lacking = Math.ceil(20 * over) / 10;
    return [
      {
        code: 'blank-too-small' as const,
        severity: 'refuse' as const,
        path: `form[${element.index}]`,
        message: `the ${element.kind} stands ${over.toFixed(2)} mm out of the blank`,
        allowed: `blank.width ${Number((blank.width + lacking).toFixed(1))} mm or more, or a smaller girth`,
        measure: { got: blank.width, bound: blank.width + 2 * over, unit: 'mm' as const },
        changes: [wider(blank, lacking)],
      },
    ];
  });
}
