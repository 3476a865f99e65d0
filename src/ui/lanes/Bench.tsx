/** The stage and the lanes under it, on one ruler. */
export function Bench() {
  return null;
}
