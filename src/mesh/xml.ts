/** Start tags of an XML text in order, with their attributes: as much of XML as a mesh file holds. */

export interface Element {
  /** Without its namespace prefix. */
  name: string;
  attributes: Record<string, string>;
}

const NAMED: Record<string, string> = { lt: '<', gt: '>', amp: '&', quot: '"', apos: "'" };
const plain = (text: string): string =>
  text.includes('&') ? text.replace(/&(lt|gt|amp|quot|apos);/g, (_, n: string) => NAMED[n]!) : text;

const START_TAG = /<([A-Za-z_][\w.:-]*)((?:\s+[\w.:-]+\s*=\s*(?:"[^"<]*"|'[^'<]*'))*)\s*\/?>/y;
const ATTRIBUTE = /([\w.:-]+)\s*=\s*(?:"([^"]*)"|'([^']*)')/g;
/** Stretches whose content is no markup; each is sought from its opening to its end once, so the walk stays linear. */
const PASSED_OVER = [
  ['<!--', '-->'],
  ['<![CDATA[', ']]>'],
  ['<?', '?>'],
] as const;

/** Walks over start tags; comments, CDATA, declarations, end tags and text are passed over. Never throws. */
export function* elementsOf(xml: string): Generator<Element> {
  let at = xml.indexOf('<');
  while (at >= 0) {
    const hidden = PASSED_OVER.find(([open]) => xml.startsWith(open, at));
    if (hidden) {
      const end = xml.indexOf(hidden[1], at);
      if (end < 0) return;
      at = xml.indexOf('<', end);
      continue;
    }
    START_TAG.lastIndex = at;
    const found = START_TAG.exec(xml);
    if (found) {
      // No prototype, so that an attribute's name can be any word.
      const attributes: Record<string, string> = Object.create(null);
      for (const a of found[2]!.matchAll(ATTRIBUTE)) attributes[a[1]!] = plain(a[2] ?? a[3]!);
      yield { name: found[1]!.replace(/^.*:/, ''), attributes };
    }
    at = xml.indexOf('<', at + 1);
  }
}
