/** The page's dialogs. */
export function Dialogs() {
  return null;
}
