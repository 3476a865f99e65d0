/** The shipped templates, bundled as text. */

const found = import.meta.glob<string>('../../../templates/*.part.json', {
  query: '?raw',
  import: 'default',
  eager: true,
});

/** Template name (without `.part.json`) → document text, in the order of their names. */
export const templateTexts: ReadonlyMap<string, string> = new Map(
  Object.entries(found).map(([path, text]) => [path.replace(/^.*\/|\.part\.json$/g, ''), text]),
);
