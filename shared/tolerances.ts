/**
 * Every tolerance has a name, a unit and a reason here; nobody writes a bare 0.01 elsewhere.
 * All in mm unless the name says otherwise.
 */

/** Two positions along the axis nearer than this are one: below what any control of this class can hold (0.001 mm). */
export const SAME_X = 1e-6;
/** The contact kernel may lie this much above the exact value (issue bar: within 0.01 mm of the oracle). */
export const CONTACT_ABOVE = 0.01;
/** …and this much below it at most; smaller than a control's last decimal, so it never shows on the work. */
export const CONTACT_BELOW = 0.001;
/** Default finish tolerance: what the deepest gouge of a proven program may be. */
export const FINISH_TOLERANCE = 0.03;
/** Default chord tolerance of the solid. */
export const SOLID_TOLERANCE = 0.02;
/** Default scallop height between neighbouring turns of the finishing spiral. */
export const SCALLOP = 0.02;
/** Air kept between the bit and the wood when it travels. */
export const CLEARANCE = 1.5;
/** No radius of a field may be smaller: the tip would pass the rotary centre and the part would fall apart. */
export const SMALLEST_RADIUS = 0.25;
/** Least advance of a finishing spiral in one turn: below it time grows and nothing is seen on the work (common practice, no source). */
export const PITCH_LEAST = 0.1;
/** Neighbouring numbers that a control can hold for the rotary word may lie so far apart, degrees: 0.0004 mm at a radius of 25. */
export const ROTARY_GRAIN = 0.001;
