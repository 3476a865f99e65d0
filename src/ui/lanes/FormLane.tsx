/** The half outline: pick an element, drag its edges and diameters, drag it elsewhere. */
import { type KeyboardEvent, memo, useMemo, useRef, useState } from 'react';
import type { PlacedElement } from '../../profiles/layout.ts';
import { type OutlineDrawing, outlineDrawing } from '../../profiles/sample.ts';
import { toForm, usePhoto } from '../dialogs/photo.ts';
import { type Ruler, toPixel } from '../ruler.ts';
import { actions, shop, useShop } from '../shop.ts';
import { ElementGrips } from './ElementGrips.tsx';
import { FormTools } from './FormTools.tsx';
import { duplicateElement, moveElement, removeElement } from './form-edits.ts';
import { Lane } from './Lane.tsx';
import { carvedPath, closedAlongAxis, linePath, type Upright } from './outline-path.ts';
import { useDrag } from './use-drag.ts';
import { elementWords, ordinal } from './words.ts';

const HEIGHT = 124;
const BASE = HEIGHT - 12;
const AIR = 26;

function pathsOf(drawn: OutlineDrawing, ruler: Ruler, up: Upright) {
  const across = (x: number) => toPixel(ruler, x);
  const line = linePath(drawn.x, drawn.most, across, up);
  return { line, half: closedAlongAxis(line, drawn.x, across, up), carved: carvedPath(drawn, across, up) };
}

/** One element's part of the lane: pressing picks it, dragging the picked one carries it along the form. */
function ElementCell(props: {
  p: PlacedElement;
  x0: number;
  x1: number;
  picked: boolean;
  first: boolean;
  words: string;
  onCarry: (dx: number | undefined) => void;
  onType: () => void;
}) {
  const { p, x0, x1, picked } = props;
  const carried = useRef(0);
  const drag = useDrag({
    least: 7,
    begin:
      () =>
      ({ dx }) => {
        carried.current = dx;
        props.onCarry(dx);
      },
    end: (moved) => {
      props.onCarry(undefined);
      if (!moved) actions.select({ kind: 'element', index: p.index });
    },
  });
  const plainPress = { onClick: () => actions.select({ kind: 'element', index: p.index }) };
  return (
    <g
      role="option"
      tabIndex={picked || props.first ? 0 : -1}
      aria-selected={picked}
      aria-label={props.words}
      className="cell"
      data-index={p.index}
      onFocus={() => (picked ? undefined : actions.select({ kind: 'element', index: p.index }))}
      onDoubleClick={props.onType}
      {...(picked ? drag : plainPress)}
    >
      <rect x={x0} y={0} width={Math.max(2, x1 - x0)} height={HEIGHT} />
      <line x1={x1} x2={x1} y1={6} y2={BASE} />
    </g>
  );
}

export const FormLane = memo(function FormLane({ ruler }: { ruler: Ruler }) {
  const photo = usePhoto();
  const good = useShop((s) => s.lastGood);
  const layoutNow = useShop((s) => s.layout);
  const selection = useShop((s) => s.selection);
  const shown = useShop((s) => s.shownUnits);
  const problems = useShop((s) => s.problems);
  const [carry, setCarry] = useState<number>();
  const typing = useRef<HTMLInputElement>(null);
  const field = good?.field;
  const layout = layoutNow?.placed.length ? layoutNow : good?.layout;
  // Drawn a little finer than a pixel shows; a power of two, so that zooming does not sample it anew at every step.
  const perPixel = (ruler.to - ruler.from) / ruler.width;
  const tolerance = 2 ** Math.floor(Math.log2(Math.max(1e-3, perPixel / 3)));
  const drawn = useMemo(() => (field ? outlineDrawing(field, tolerance) : undefined), [field, tolerance]);
  const perMm = (BASE - AIR) / Math.max(field?.maxRadius ?? 1, 1);
  const paths = useMemo(() => drawn && pathsOf(drawn, ruler, { base: BASE, perMm }), [drawn, ruler, perMm]);
  if (!layout || !paths || !field) return <Lane name="Form">{null}</Lane>;
  const up: Upright = { base: BASE, perMm };
  const across = (x: number) => toPixel(ruler, x);
  const laid = photo && toForm(photo);
  const picked = selection.kind === 'element' ? selection.index : undefined;
  const wrong = new Set(problems.flatMap((p) => p.path.match(/^form\[(\d+)\]/)?.[1] ?? []).map(Number));

  /** Where the carried element would be put down. */
  const landing = (dx: number): number => {
    const p = layout.placed[picked!]!;
    const middle = (p.from + p.to) / 2 + dx * perPixel;
    const others = layout.placed.filter((o) => o.index !== picked);
    return others.filter((o) => (o.from + o.to) / 2 < middle).length;
  };
  const carried = (dx: number | undefined) => {
    if (dx === undefined && carry !== undefined && picked !== undefined) {
      const to = landing(carry);
      actions.change((draft) => moveElement(draft, picked, to));
      actions.select({ kind: 'element', index: to });
    }
    setCarry(dx);
  };
  const keys = (e: KeyboardEvent) => {
    if (picked === undefined || (e.target as Element).getAttribute('role') !== 'option') return;
    const last = layout.placed.length - 1;
    const go = (index: number) => {
      const at = Math.min(last, Math.max(0, index));
      actions.select({ kind: 'element', index: at });
      requestAnimationFrame(() => document.querySelector<SVGGElement>(`.cell[data-index="${at}"]`)?.focus());
    };
    const by = { ArrowLeft: -1, ArrowRight: 1 }[e.key];
    const current = shop.getState().layout;
    if (by !== undefined && e.altKey) {
      actions.change((draft) => moveElement(draft, picked, picked + by));
      go(picked + by);
    } else if (by !== undefined) go(picked + by);
    else if (e.key === 'Home') go(0);
    else if (e.key === 'End') go(last);
    else if (e.key === 'Enter') typing.current?.focus();
    else if ((e.key === 'Delete' || e.key === 'Backspace') && current) {
      actions.change((draft) => removeElement(draft, current, picked));
      go(Math.min(picked, last - 1));
    } else if (e.key === 'd' && !e.ctrlKey && !e.metaKey && current) {
      actions.change((draft) => duplicateElement(draft, current, picked));
      go(picked + 1);
    } else return;
    e.preventDefault();
    e.stopPropagation();
  };
  const landingX =
    carry === undefined || picked === undefined
      ? undefined
      : (() => {
          const to = landing(carry);
          const others = layout.placed.filter((o) => o.index !== picked);
          return across(to < others.length ? others[to]!.from : layout.length);
        })();

  return (
    <Lane
      name="Form"
      selected={selection.kind === 'element' || (selection.kind === 'step' && selection.step === 'form')}
      note={`${layout.placed.length} element${layout.placed.length === 1 ? '' : 's'}`}
      onName={() => actions.select({ kind: 'step', step: 'form' })}
    >
      <svg className="form-drawing" width={ruler.width} height={HEIGHT} onKeyDown={keys}>
        <title>Half outline of the form</title>
        {photo && laid ? (
          <image
            href={photo.url}
            width={photo.width}
            height={photo.height}
            transform={`matrix(${1 / perPixel} 0 0 ${up.perMm} ${across(0)} ${BASE}) matrix(${laid.join(' ')})`}
          />
        ) : null}
        <path className="form-wood" data-thin={laid ? true : undefined} d={paths.half} />
        <path className="form-carved" d={paths.carved} />
        <line className="form-axis" x1={across(-1e4)} x2={across(1e4)} y1={BASE} y2={BASE} />
        <g role="listbox" aria-label="Elements from the chuck end to the tail end" aria-orientation="horizontal">
          {layout.placed.map((p) => (
            <ElementCell
              key={p.index}
              p={p}
              x0={across(p.from)}
              x1={across(p.to)}
              picked={p.index === picked}
              first={picked === undefined && p.index === 0}
              words={`${ordinal(p.index + 1)}: ${elementWords(p, shown)}`}
              onCarry={carried}
              onType={() => typing.current?.focus()}
            />
          ))}
        </g>
        {layout.placed
          .filter((p) => wrong.has(p.index))
          .map((p) => (
            <path key={p.index} className="form-wrong" d={`M${across(p.from)} ${HEIGHT - 3}H${across(p.to)}`} />
          ))}
        <path className="form-line" d={paths.line} />
        {picked === undefined ? null : (
          <ElementGrips ruler={ruler} layout={layout} index={picked} up={up} height={HEIGHT} shown={shown} />
        )}
        {landingX === undefined ? null : <path className="landing" d={`M${landingX} 2V${HEIGHT - 2}`} />}
      </svg>
      <FormTools layout={layout} picked={picked} typing={typing} />
    </Lane>
  );
});
