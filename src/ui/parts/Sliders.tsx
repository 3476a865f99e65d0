/** Sliders of what is selected. */
export function Sliders() {
  return null;
}
