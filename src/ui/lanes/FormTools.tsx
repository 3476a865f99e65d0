/** Under the outline: the picked element's numbers by typing, and what can be done with it. */
import { type RefObject, useState } from 'react';
import type { z } from 'zod';
import { metaOf } from '../../../shared/schema.ts';
import { type ElementName, elementKind, elementKinds } from '../../profiles/elements/registry.ts';
import type { Layout } from '../../profiles/layout.ts';
import { formSection } from '../../resolve/blank.ts';
import { toDocument } from '../measure.ts';
import { actions, shop } from '../shop.ts';
import { addedElement } from './added-element.ts';
import {
  duplicateElement,
  insertElement,
  moveEdge,
  moveElement,
  type RawItem,
  removeElement,
  replaceElement,
  SHORTEST,
  writtenElement,
} from './form-edits.ts';
import { LengthInput } from './LengthInput.tsx';
import { elementDrawing } from './moulding.ts';
import { Palette } from './Palette.tsx';
import { split, turnedRound } from './reshape.ts';

/** From a typed number the focus goes back to the element that it belongs to. */
const backToCell = () => document.querySelector<SVGGElement>('.cell[aria-selected="true"]')?.focus();

export function FormTools(props: {
  layout: Layout;
  picked: number | undefined;
  typing: RefObject<HTMLInputElement | null>;
}) {
  const { layout, picked } = props;
  const [open, setOpen] = useState(false);
  const p = picked === undefined ? undefined : layout.placed[picked];
  const at = p ? p.index + 1 : layout.placed.length;

  const insert = (kind: string) => {
    const { raw, layout: current, part } = shop.getState();
    const now = current ?? layout;
    const { element, length } = addedElement(raw, now, at, kind as ElementName, part?.girth ?? 1);
    actions.change((draft) => insertElement(draft, now, at, element, length));
    actions.select({ kind: 'element', index: at });
    setOpen(false);
  };
  /** Reshapes the picked element into others of the same outline. */
  const reshape = (how: (...of: Parameters<typeof turnedRound>) => RawItem[] | undefined, cannot: string) => {
    const { part, job, layout: now } = shop.getState();
    const placed = now?.placed[picked!];
    if (!part || !placed) return;
    const section = job ? formSection(job.blank) : undefined;
    const made = how(part.form[picked!]!, placed, part.girth ?? 1, section);
    if (!made) actions.set({ notice: cannot });
    else
      actions.change((d) =>
        replaceElement(
          d,
          picked!,
          made.map((e) => writtenElement(d, e)),
        ),
      );
  };
  const girth = Number(shop.getState().part?.girth ?? 1);
  const shape: Record<string, z.ZodType> = p ? elementKind(p.kind).schema.shape : {};
  /** What the schema lets a diameter be, as it stands in the lane: with the girth in it. */
  const across = (key: 'start' | 'end') => {
    const { min = 0, max = Infinity } = metaOf(shape[key]!) ?? {};
    return { min: min * girth, max: max * girth };
  };
  const diameter = (key: 'start' | 'end') => (mm: number) =>
    actions.edit(['form', p!.index, key], toDocument(shop.getState().raw, mm / girth));
  return (
    <div className="tools">
      {p ? (
        <>
          <LengthInput
            label="length"
            about={p.index}
            value={p.to - p.from}
            min={SHORTEST}
            max={metaOf(shape.length!)?.max ?? Infinity}
            inputRef={props.typing}
            onLeave={backToCell}
            onTyped={(mm) => {
              const now = shop.getState().layout ?? layout;
              actions.change((draft) => moveEdge(draft, now, p.index, p.from + mm, false));
            }}
          />
          {(['start', 'end'] as const)
            .filter((key) => key in shape)
            .map((key) => (
              <LengthInput
                key={key}
                label={key === 'start' ? 'chuck side' : 'tail side'}
                about={p.index}
                sign="ø"
                value={p[key]}
                {...across(key)}
                onTyped={diameter(key)}
                onLeave={backToCell}
              />
            ))}
          <span className="tools-gap" />
        </>
      ) : null}
      <button type="button" aria-expanded={open} onClick={() => setOpen(!open)}>
        {p ? 'Add behind' : 'Add an element'}
      </button>
      {p ? (
        <>
          <button
            type="button"
            onClick={() =>
              reshape(
                (e, placed, g, section) => split(e, placed, 0.5, g, section),
                'This one cannot be split: no two elements have its halves',
              )
            }
          >
            Split
          </button>
          <button
            type="button"
            onClick={() => {
              const now = shop.getState().layout ?? layout;
              actions.change((d) => duplicateElement(d, now, p.index));
              actions.select({ kind: 'element', index: p.index + 1 });
            }}
          >
            Repeat
          </button>
          <button
            type="button"
            onClick={() =>
              reshape((e, placed, g, section) => {
                const turned = turnedRound(e, placed, g, section);
                return turned && [turned];
              }, 'This one cannot be turned end for end')
            }
          >
            Turn round
          </button>
          <button
            type="button"
            aria-label="One place toward the chuck"
            disabled={p.index === 0}
            onClick={() => {
              actions.change((d) => moveElement(d, p.index, p.index - 1));
              actions.select({ kind: 'element', index: p.index - 1 });
            }}
          >
            ←
          </button>
          <button
            type="button"
            aria-label="One place toward the tailstock"
            disabled={p.index === layout.placed.length - 1}
            onClick={() => {
              actions.change((d) => moveElement(d, p.index, p.index + 1));
              actions.select({ kind: 'element', index: p.index + 1 });
            }}
          >
            →
          </button>
          <button
            type="button"
            disabled={layout.placed.length < 2}
            title={
              layout.placed.length < 2
                ? 'A form has at least one element: add another first, or make this one what you want'
                : undefined
            }
            onClick={() => {
              const now = shop.getState().layout ?? layout;
              actions.change((d) => removeElement(d, now, p.index));
              actions.select({ kind: 'element', index: Math.min(p.index, now.placed.length - 2) });
            }}
          >
            Take out
          </button>
        </>
      ) : (
        <span className="tools-hint">Pick an element to shape it</span>
      )}
      {open ? (
        <Palette
          label="Elements"
          entries={elementKinds.map((k) => ({ ...k, drawing: elementDrawing(k.kind, 76, 44) }))}
          onPick={insert}
          onClose={() => setOpen(false)}
        />
      ) : null}
    </div>
  );
}
