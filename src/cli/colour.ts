/** The few colours of the command line; none where the stream is no terminal or NO_COLOR is set (no-color.org). */

const CODES = { verdigris: '38;5;73', rust: '38;5;167', ochre: '38;5;179', faint: '2' } as const;
export type Colour = keyof typeof CODES;

/** @returns the text, coloured if the stream shows colours */
export function colour(text: string, name: Colour, stream: NodeJS.WriteStream): string {
  if (!stream.isTTY || process.env.NO_COLOR) return text;
  return `\u001b[${CODES[name]}m${text}\u001b[0m`;
}
