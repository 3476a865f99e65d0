/** The stock before cutting and what holds it. */
import { SAME_X } from '../../shared/tolerances.ts';
import { TURN, wrapHalfTurn } from '../../shared/units.ts';

/** A blank in the part frame. A flat faces θ = 0. */
export interface Blank {
  readonly section: 'square' | 'rectangle' | 'polygon' | 'round';
  /** Side of a square, across the flats of a polygon, diameter of a round, of a rectangle the size along y (at θ = ±90°). */
  readonly width: number;
  /** Of a rectangle the size along z when the rotary stands at zero; else equal to width. */
  readonly height: number;
  /** Flats of a polygon; 4 for square and rectangle, 0 for round. */
  readonly sides: number;
  /** x of the two end faces in the part frame. */
  readonly from: number;
  readonly to: number;
  /** Diameter of a tube's bore along the axis, mm; left out, solid stock. */
  readonly bore?: number;
}

/** How the blank is held; all lengths along x, mm. */
export interface Holding {
  /** Length inside the jaws. */
  readonly chuckGrip: number;
  /** From the jaws to the form. */
  readonly chuckStub: number;
  /** From the form to the blank's end at the tailstock. */
  readonly tailStub: number;
  readonly tailstock: boolean;
  /** A round end made on the stock beforehand for the jaws, mm; left out, the jaws hold the stock itself. */
  readonly tenon?: { readonly diameter: number };
  /** Whether the jaws spread inside the stock's bore. */
  readonly inside?: boolean;
}

/** A solid of revolution that nothing may touch, part frame. */
export interface KeepOut {
  readonly from: number;
  readonly to: number;
  readonly radius: number;
  readonly what: string;
}

/** A turned length left beside the form while it is cut: the wood that carries the torque. */
export interface Stub {
  readonly from: number;
  readonly to: number;
  /** Smallest radius it may be turned to. */
  readonly radius: number;
  /** Radius at which it stands while the surface is made, before the necks are turned; left out, `radius`. */
  readonly standing?: number;
}

/** What is left beside the form at either end and, where several pieces share a stick, between them. */
export interface Stubs {
  readonly chuck: Stub;
  readonly tail: Stub;
  /** Parting grooves inside the form, ascending; left out, none. Each stands at `standing` until the necks are turned. */
  readonly between?: readonly Stub[];
}

/** Radius of the blank's section at angle θ. @param theta radians @returns mm */
export function blankRadius(blank: Blank, theta: number): number {
  if (blank.section === 'round') return blank.width / 2;
  if (blank.section === 'polygon') {
    const step = TURN / blank.sides;
    const off = wrapHalfTurn(theta) - Math.round(wrapHalfTurn(theta) / step) * step;
    return blank.width / 2 / Math.cos(off);
  }
  const c = Math.abs(Math.cos(theta));
  const s = Math.abs(Math.sin(theta));
  return Math.min(c > 0 ? blank.height / 2 / c : Infinity, s > 0 ? blank.width / 2 / s : Infinity);
}

/** Radius of the circle inside the section: where going round never leaves the wood. @returns mm */
export const innerRadius = (blank: Blank): number => Math.min(blank.width, blank.height) / 2;

/** Radius of the circle around the section: what swings. @returns mm */
export function outerRadius(blank: Blank): number {
  if (blank.section === 'round') return blank.width / 2;
  if (blank.section === 'polygon') return blank.width / 2 / Math.cos(Math.PI / blank.sides);
  return Math.hypot(blank.width, blank.height) / 2;
}

/** Whether so large a radius of a form stands beyond the flats of its stock: then it is measured over the corners, and nothing there is that diameter all round. */
export const overCorners = (blank: Pick<Blank, 'width' | 'height'>, radius: number): boolean =>
  radius > Math.min(blank.width, blank.height) / 2 + SAME_X;

/** Area of the section, its bore taken off. @returns mm² */
export const sectionArea = (blank: Blank): number => grossArea(blank) - (Math.PI * (blank.bore ?? 0) ** 2) / 4;

function grossArea(blank: Blank): number {
  if (blank.section === 'round') return (Math.PI * blank.width * blank.width) / 4;
  if (blank.section === 'polygon')
    return (blank.sides * blank.width * blank.width * Math.tan(Math.PI / blank.sides)) / 4;
  return blank.width * blank.height;
}

/** Volume of the whole blank. @returns mm³ */
export const blankVolume = (blank: Blank): number => sectionArea(blank) * (blank.to - blank.from);
