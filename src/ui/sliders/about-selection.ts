/** What the panel shows for what is selected: its titles, and which places of the document it sets. Pure. */
import { carvingKinds } from '../../profiles/carvings/registry.ts';
import { elementKinds } from '../../profiles/elements/registry.ts';
import { carvingDrawing, type Drawing, elementDrawing } from '../lanes/moulding.ts';
import { ordinal } from '../lanes/words.ts';
import { lengthNumber, lengthText, type ShownUnits } from '../measure.ts';
import type { Path, Selection, StepName, Workshop } from '../state/contract.ts';

export interface PanelPart {
  title: string;
  note: string;
  path: Path;
  /** What its kind is: one sentence, and what it looks like. */
  meaning?: { words: string; draw: () => Drawing };
  /** Members shown; left out, all. */
  only?: readonly string[];
}

const STEPS: Record<StepName, PanelPart[]> = {
  bench: [
    { title: 'Bench', note: 'The machine, and the dialect of its control', path: [], only: ['bench', 'control'] },
    { title: 'Trim', note: 'What readings of a finished part have shown to be off', path: ['trim'] },
  ],
  blank: [
    { title: 'Blank', note: 'The stock before cutting', path: ['blank'] },
    { title: 'Holding', note: 'What is gripped, and what is left beside the form', path: ['holding'] },
  ],
  form: [
    {
      title: 'Form',
      note: 'The whole of it; pick an element in the lane for its own sliders',
      path: [],
      only: ['length', 'girth', 'about', 'units'],
    },
  ],
  carving: [{ title: 'Carving', note: 'Pick a bar in the lane for its sliders, or add one there', path: [], only: [] }],
  cutting: [
    { title: 'Bits', note: 'What cuts; left out, chosen by the form', path: ['bits'] },
    { title: 'Plan', note: 'How it is cut', path: ['plan'] },
    { title: 'Feeds and speeds', note: 'Your own numbers; left out, worked out', path: ['feeds'] },
  ],
  strength: [{ title: 'Strength', note: 'Who relies on it', path: [], only: ['guard'] }],
  proof: [{ title: 'Proof', note: 'What the proof holds the programs to', path: [], only: ['tolerance'] }],
  'take-away': [
    { title: 'Price', note: 'What one part costs', path: ['price'] },
    { title: 'Solid', note: 'What the solid files get beyond the form', path: ['solid'] },
    { title: 'Sheet', note: 'Printed on the setup sheet', path: [], only: ['notes'] },
    { title: 'Knobs', note: 'What variants of it may have otherwise', path: [], only: ['knobs'] },
  ],
};

const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1);

/** @param w what the page knows @returns parts of the panel, in their order */
export function partsOf(
  w: Pick<Workshop, 'raw' | 'layout' | 'lastGood' | 'part'>,
  selection: Selection,
  shown: ShownUnits,
): PanelPart[] {
  const layout = w.layout?.placed.length ? w.layout : w.lastGood?.layout;
  const form = Array.isArray(w.raw.form) ? (w.raw.form as { element?: unknown }[]) : [];
  const carvings = Array.isArray(w.raw.carvings) ? (w.raw.carvings as { carving?: unknown }[]) : [];
  if (selection.kind === 'element') {
    const e = form[selection.index];
    const p = layout?.placed.find((q) => q.index === selection.index);
    if (!e) return STEPS.form;
    const where = p ? `, from ${lengthNumber(p.from, shown)} to ${lengthText(p.to, shown)}` : '';
    const kind = elementKinds.find((k) => k.kind === e.element);
    if (!kind) return STEPS.form;
    return [
      {
        title: capital(kind.label),
        note: `${ordinal(selection.index + 1)} of ${form.length} elements${where}`,
        path: ['form', selection.index],
        meaning: { words: kind.meaning, draw: () => elementDrawing(kind.kind, 200, 72) },
      },
    ];
  }
  if (selection.kind === 'carving') {
    const c = carvings[selection.index];
    if (!c) return [];
    const kind = carvingKinds.find((k) => k.kind === c.carving);
    if (!kind) return STEPS.carving;
    return [
      {
        title: capital(kind.label),
        note: `${ordinal(selection.index + 1)} of ${carvings.length} carvings`,
        path: ['carvings', selection.index],
        meaning: { words: kind.meaning, draw: () => carvingDrawing(kind.kind, 84) },
      },
    ];
  }
  return STEPS[selection.step];
}
