/**
 * A strict JSON reader (RFC 8259) that says where a text stops being JSON: line, column and what was expected. The engines' own
 * parsers differ in wording and often leave the place out, and they take a key given twice in silence.
 */

/** What a text holds, or where it breaks (line and column count from 1). */
export type JsonResult = { value: unknown } | { line: number; column: number; message: string };

/** Deeper nesting than this is no document of ours, and would exhaust the stack. */
const DEEPEST = 60;

class Broken extends Error {
  readonly at: number;
  constructor(at: number, message: string) {
    super(message);
    this.at = at;
  }
}

const NUMBER = /-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?/y;
// biome-ignore lint/suspicious/noControlCharactersInRegex: JSON forbids exactly these inside a string
const STRING = /"(?:[^"\\\u0000-\u001f]|\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4}))*"/y;
const WORDS: Record<string, unknown> = { true: true, false: false, null: null };

/** Reads one JSON text. @param text the whole file @returns its value, or the first place that is wrong */
export function readJson(text: string): JsonResult {
  let at = text.charCodeAt(0) === 0xfeff ? 1 : 0;
  const space = () => {
    while (at < text.length && ' \t\r\n'.includes(text[at]!)) at++;
  };
  const match = (pattern: RegExp): string | undefined => {
    pattern.lastIndex = at;
    const found = pattern.exec(text)?.[0];
    if (found !== undefined) at += found.length;
    return found;
  };
  const string = (): string => {
    const found = match(STRING);
    if (found === undefined)
      throw new Broken(at, 'a text in double quotes is not closed or holds a forbidden character');
    return JSON.parse(found) as string;
  };
  const seen = () => (at < text.length ? `found ${JSON.stringify(text[at])}` : 'the file ends');

  function value(depth: number): unknown {
    space();
    if (depth > DEEPEST) throw new Broken(at, 'groups are nested too deeply');
    const c = text[at];
    if (c === '{') return group(depth);
    if (c === '[') return list(depth);
    if (c === '"') return string();
    const word = /[A-Za-z]+/y;
    const start = at;
    const name = match(word);
    if (name !== undefined) {
      if (name in WORDS) return WORDS[name];
      throw new Broken(start, `"${name}" is not a value; a number, a text in double quotes, true or false is`);
    }
    const digits = match(NUMBER);
    if (digits === undefined) throw new Broken(at, `a value was expected, ${seen()}`);
    return Number(digits);
  }

  function group(depth: number): Record<string, unknown> {
    const out: Record<string, unknown> = {};
    at++;
    space();
    if (text[at] === '}') {
      at++;
      return out;
    }
    for (;;) {
      space();
      if (text[at] !== '"') throw new Broken(at, `a key in double quotes was expected, ${seen()}`);
      const start = at;
      const key = string();
      if (Object.hasOwn(out, key)) throw new Broken(start, `the key "${key}" is given twice`);
      space();
      if (text[at] !== ':') throw new Broken(at, `a colon was expected after "${key}", ${seen()}`);
      at++;
      // defineProperty: a key named __proto__ stays a plain key.
      Object.defineProperty(out, key, {
        value: value(depth + 1),
        enumerable: true,
        writable: true,
        configurable: true,
      });
      space();
      if (text[at] === '}') break;
      if (text[at] !== ',') throw new Broken(at, `a comma or } was expected, ${seen()}`);
      at++;
    }
    at++;
    return out;
  }

  function list(depth: number): unknown[] {
    const out: unknown[] = [];
    at++;
    space();
    if (text[at] === ']') {
      at++;
      return out;
    }
    for (;;) {
      out.push(value(depth + 1));
      space();
      if (text[at] === ']') break;
      if (text[at] !== ',') throw new Broken(at, `a comma or ] was expected, ${seen()}`);
      at++;
    }
    at++;
    return out;
  }

  try {
    const whole = value(0);
    space();
    if (at < text.length) throw new Broken(at, `the document ends here, yet ${seen()}`);
    return { value: whole };
  } catch (broken) {
    if (!(broken instanceof Broken)) throw broken;
    const before = text.slice(0, broken.at).split('\n');
    return { line: before.length, column: before.at(-1)!.length + 1, message: broken.message };
  }
}
