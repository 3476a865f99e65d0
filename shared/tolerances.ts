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
/** Added to a searched contact on sections that are not round: what its samples may miss between them. */
export const CONTACT_GUARD = 0.003;
/** Contact samples: a convex bend of this much at both ends of an edge is looked into; what is let pass is below the guard. */
export const CONTACT_BEND = 0.003;
/** Contact samples: a point that stands out less than this above its edge is not worth keeping. */
export const CONTACT_KNOT = 0.0005;
/** Contact samples: a convex bend beyond this between neighbours is an arris, where no quadratic can be trusted. */
export const CONTACT_SHARP = 0.01;
/** Contact table of round stretches: what a straight line may differ where it is checked; half of CONTACT_BELOW at most. */
export const CONTACT_LINE = 0.0004;
/** Default finish tolerance: what the deepest gouge of a proven program may be. */
export const FINISH_TOLERANCE = 0.03;
/** Default chord tolerance of the solid. */
export const SOLID_TOLERANCE = 0.02;
/** Default scallop height between neighbouring turns of the finishing spiral. */
export const SCALLOP = 0.02;
/** Widest scallop that may be asked for: beyond it a spiral is no finish. */
export const SCALLOP_MOST = 0.5;
/** Air kept between the bit and the wood when it travels. */
export const CLEARANCE = 1.5;
/** No radius of a field may be smaller: the tip would pass the rotary centre and the part would fall apart. */
export const SMALLEST_RADIUS = 0.25;
/** Least advance of a finishing spiral in one turn: below it time grows and nothing is seen on the work (common practice, no source). */
export const PITCH_LEAST = 0.1;
/** Neighbouring numbers that a control can hold for the rotary word may lie so far apart, degrees: 0.0004 mm at a radius of 25. */
export const ROTARY_GRAIN = 0.001;
/** The solid's volume may differ from the field's integral by this share of it (issue bar: 0.05 %). */
export const SOLID_VOLUME_SHARE = 5e-4;
/** A blank marked and centred by hand turns this far off its middle (common practice, no source). */
export const CENTRING = 0.5;
/** Ridge that the proof's own steps may leave between two looked-at places of a bit: a sixth of the finish tolerance. */
export const PROOF_RIDGE = 0.004;
/** …and while the bit is far from the part's surface, where only bulk is counted. */
export const PROOF_RIDGE_FAR = 0.012;
/** Nearer to the part than this the proof looks finely, mm. */
export const PROOF_NEAR = 0.08;
/** What a swept rapid may brush against, mm: above the rounding of a control's last decimal, below anything that matters to a bit. */
export const RAPID_BRUSH = 0.01;
/** Speeds worked out from rounded words may pass a limit by this share. */
export const SPEED_SLACK = 0.01;
/** Wood met head-on deeper than the step-down by this share… */
export const STEP_DOWN_SHARE = 1.15;
/** …and this much, mm, is refused: scallops and facets of the layer before stand that high. */
export const STEP_DOWN_SLACK = 0.3;
/** …once its section sums up to this, mm²: a sliver between two strokes is broken off, not cut. */
export const HEAD_ON_AREA = 1;
/** A pause of this way, mm, starts the sum anew. */
export const HEAD_ON_PAUSE = 2;
/** Way, mm, that a descent steeper than allowed must go on in wood before it counts as a ramp. */
export const HEAD_ON_TRAVEL = 0.5;
/** Facets that the corners stage may leave beyond the inscribed circle, mm. */
export const CORNER_FACET = 0.5;
/** A cut that ends as near to a limit as this has not passed it, mm. */
export const LIMIT_SLACK = 0.01;
/** Unfinished wood on less than this is a blemish (mm²): a few of the proof's own cells. */
export const REST_AREA = 1;
/** A drill whose diameter differs from a hole's by no more than this makes it. */
export const SAME_DIAMETER = 0.05;
/** Readings: sawn stock may be so much thicker than the document says (common practice, no source). */
export const STOCK_OVER = 1;
/**
 * Readings: a zero, a tailstock or a head that is off by more was not set at all, or is no millimetre: touching off on a dowel
 * with a strip of paper is good for a tenth, without any care for one (common practice, no source).
 */
export const CORRECTION_MOST = 3;
/** Readings: a reading further from what was wanted, mm across, is no error of setting: both sides at the bound above, and two more. */
export const READING_OFF = 2 * CORRECTION_MOST + 2;
/** Readings: a bit is thrown away long before it is worn by more than this share of its diameter (common practice, no source). */
export const WEAR_SHARE = 0.1;
/** Readings: where more than this share of what is off stays unexplained, the causes found are no explanation… */
export const UNEXPLAINED_SHARE = 0.5;
/** …unless so little stays, mm across, that a caliper and a hand would leave as much. */
export const UNEXPLAINED_LEAST = 0.05;
