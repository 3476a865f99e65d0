/** The number at which cutting is taken up again, as it is typed. Pure. */

/** @param texts of the programs @returns the highest restart number in the comments of their passes; 0 if there is none */
export const lastRestart = (texts: readonly string[]): number =>
  texts.reduce((most, text) => {
    for (const [, number] of text.matchAll(/; restart (\d+)/g)) most = Math.max(most, Number(number));
    return most;
  }, 0);

/**
 * @param text as typed @param last highest restart number of the programs
 * @returns the number, or the sentence that says why it is none
 */
export function restartNumber(text: string, last: number): { pass: number } | { refused: string } {
  const typed = text.trim();
  const pass = Number(typed);
  if (typed && Number.isInteger(pass) && pass >= 1 && pass <= last) return { pass };
  const allowed = `1 to ${last}, the number after "restart" in the last pass comment`;
  if (!typed) return { refused: `Nothing is typed: ${allowed}` };
  const told = typed.slice(0, 24);
  return {
    refused: Number.isInteger(pass) ? `There is no pass ${told}: ${allowed}` : `${told} is no whole number: ${allowed}`,
  };
}
