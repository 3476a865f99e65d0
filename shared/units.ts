/** The only file in which 25.4, 60 and π/180 occur as conversions. */

/** One full turn, radians. */
export const TURN = 2 * Math.PI;
/** Millimetres in one inch (exact by definition). */
export const MM_PER_INCH = 25.4;
/** Seconds in one minute. */
export const SECONDS_PER_MINUTE = 60;

/** Degrees to radians, exact at multiples of 90 up to the rounding of π itself. @param degrees angle, ° @returns radians */
export const radians = (degrees: number): number => (degrees / 360) * TURN;

/** Radians to degrees. @param angle radians @returns degrees */
export const degrees = (angle: number): number => (angle / TURN) * 360;

/** Sine of an angle in degrees, exact (0, ±1) at multiples of 90. @param angle ° */
export function sinDegrees(angle: number): number {
  const quarter = (((angle / 90) % 4) + 4) % 4;
  return Number.isInteger(quarter) ? [0, 1, 0, -1][quarter]! : Math.sin(radians(angle));
}

/** Cosine of an angle in degrees, exact (0, ±1) at multiples of 90. @param angle ° */
export const cosDegrees = (angle: number): number => sinDegrees(angle + 90);

/** Brings an angle into [0, 2π). @param angle radians @returns radians */
export function wrapTurn(angle: number): number {
  const wrapped = angle % TURN;
  return wrapped < 0 ? wrapped + TURN : wrapped;
}

/** Brings an angle into [−π, π). @param angle radians @returns radians */
export const wrapHalfTurn = (angle: number): number => wrapTurn(angle + Math.PI) - Math.PI;

/** Millimetres to inches. @param mm length @returns inches */
export const inches = (mm: number): number => mm / MM_PER_INCH;

/** Speed per minute to speed per second. @param perMinute unit/min @returns unit/s */
export const perSecond = (perMinute: number): number => perMinute / SECONDS_PER_MINUTE;

/** Speed per second to speed per minute. @param perSecond unit/s @returns unit/min */
export const perMinute = (perSecond: number): number => perSecond * SECONDS_PER_MINUTE;
