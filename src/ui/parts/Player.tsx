/** Plays the cutting. */
export function Player() {
  return null;
}
