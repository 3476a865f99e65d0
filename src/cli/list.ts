/** `templates`: what there is to start from. */
import { DONE, WRONG_INPUT } from './exit.ts';
import type { CommonOptions } from './make.ts';
import { listTemplates, templateText } from './templates.ts';

/** @param name of one to print; undefined to list them @returns the exit code */
export function runTemplates(name: string | undefined, options: CommonOptions): number {
  const out = (text: string) => process.stdout.write(text);
  if (name === undefined) {
    const rows = listTemplates();
    const wide = Math.max(...rows.map((r) => r.name.length));
    if (options.json) out(`${JSON.stringify({ templates: rows }, null, 2)}\n`);
    else for (const r of rows) out(options.quiet ? `${r.name}\n` : `${r.name.padEnd(wide)}  ${r.about}\n`);
    return DONE;
  }
  const found = templateText(name);
  if ('text' in found) {
    out(found.text);
    return DONE;
  }
  const hint = found.meant ? `did you mean ${found.meant}?` : `one of ${found.names.join(', ')}`;
  process.stderr.write(`templates: there is no template "${name}" (${hint})\n`);
  return WRONG_INPUT;
}
