/** The frame of the selected element with its grips: two edges along the axis, a diameter at each end. */

import { elementKind } from '../../profiles/elements/registry.ts';
import type { Layout } from '../../profiles/layout.ts';
import { handStep, lengthNumber, lengthText, type ShownUnits, snapped, toDocument } from '../measure.ts';
import { type Ruler, toPixel } from '../ruler.ts';
import { actions, shop } from '../shop.ts';
import { moveEdge } from './form-edits.ts';
import type { Upright } from './outline-path.ts';
import { useDrag } from './use-drag.ts';
import { elementWords } from './words.ts';

const STEP = 0.5;
/** Upper edge of the frame, px: the element's words, often wider than it, stand above. */
const FRAME = 22;

/** A grip that also answers to the arrow keys. */
function Grip(props: {
  kind: 'edge' | 'radius';
  x: number;
  y: number;
  label: string;
  value: number;
  shown: ShownUnits;
  begin: (gesture: string) => (t: { dx: number; dy: number; shift: boolean }) => void;
  step: (by: number) => void;
}) {
  const drag = useDrag({ begin: props.begin });
  return (
    <g
      className={`grip grip-${props.kind}`}
      role="slider"
      tabIndex={0}
      aria-label={props.label}
      aria-valuenow={Number(lengthNumber(props.value, props.shown))}
      aria-valuetext={lengthText(props.value, props.shown)}
      transform={`translate(${props.x} ${props.y})`}
      {...drag}
      onKeyDown={(e) => {
        const by = { ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1 }[e.key];
        if (by === undefined) return;
        e.preventDefault();
        e.stopPropagation();
        props.step(by * (e.shiftKey ? 10 : 1));
      }}
    >
      <circle className="grip-reach" r={13} />
      {props.kind === 'edge' ? <circle r={5.5} /> : <path d="M0-7 6 0 0 7-6 0Z" />}
    </g>
  );
}

export function ElementGrips(props: {
  ruler: Ruler;
  layout: Layout;
  index: number;
  up: Upright;
  height: number;
  shown: ShownUnits;
}) {
  const { ruler, layout, index, up, height, shown } = props;
  const p = layout.placed[index];
  if (!p) return null;
  const [x0, x1] = [toPixel(ruler, p.from), toPixel(ruler, p.to)];
  const girth = Number(shop.getState().part?.girth ?? 1);
  const step = handStep(STEP, shown);
  const perPixel = (ruler.to - ruler.from) / ruler.width;

  const edge = (i: number, trade: boolean) => ({
    begin: (gesture: string) => {
      const at = shop.getState().layout ?? layout;
      const from = at.placed[i]!.to;
      return ({ dx, shift }: { dx: number; shift: boolean }) => {
        const x = snapped(from + dx * perPixel - at.placed[i]!.from, step, step) + at.placed[i]!.from;
        actions.change((draft) => moveEdge(draft, at, i, x, trade !== shift), gesture);
      };
    },
    step: (by: number) => {
      const at = shop.getState().layout ?? layout;
      const x = snapped(at.placed[i]!.to - at.placed[i]!.from + by * step, step, step) + at.placed[i]!.from;
      actions.change((draft) => moveEdge(draft, at, i, x, trade));
    },
  });
  const fields = elementKind(p.kind).schema.shape as Record<string, unknown>;
  const write = (key: 'start' | 'end', diameter: number, gesture?: string) => {
    const raw = shop.getState().raw;
    const mm = snapped(diameter / girth, step, step);
    actions.edit(['form', index, key], toDocument(raw, mm), gesture);
  };
  const radius = (key: 'start' | 'end', diameter: number) => ({
    begin: (gesture: string) => {
      return ({ dy }: { dy: number }) => write(key, diameter - (2 * dy) / up.perMm, gesture);
    },
    step: (by: number) => write(key, diameter + by * step * girth),
  });
  const inside = Math.min(x1, ruler.width - 8);
  const middle = (Math.max(x0, 0) + inside) / 2;
  return (
    <g className="chosen">
      <rect className="chosen-frame" x={x0} y={FRAME} width={Math.max(1, x1 - x0)} height={height - 3 - FRAME} />
      <text className="chosen-words" x={Math.min(ruler.width - 90, Math.max(90, middle))} y={16} textAnchor="middle">
        {elementWords(p, shown)}
      </text>
      {index > 0 ? (
        <Grip
          kind="edge"
          x={x0}
          y={up.base}
          label="where it begins; the element before gives or takes"
          value={p.from}
          shown={shown}
          {...edge(index - 1, true)}
        />
      ) : null}
      <Grip kind="edge" x={x1} y={up.base} label="length" value={p.to - p.from} shown={shown} {...edge(index, false)} />
      {'start' in fields ? (
        <Grip
          kind="radius"
          x={x0}
          y={up.base - (p.start / 2) * up.perMm}
          label="diameter at its chuck side"
          value={p.start}
          shown={shown}
          {...radius('start', p.start)}
        />
      ) : null}
      {'end' in fields ? (
        <Grip
          kind="radius"
          x={x1}
          y={up.base - (p.end / 2) * up.perMm}
          label="diameter at its tail side"
          value={p.end}
          shown={shown}
          {...radius('end', p.end)}
        />
      ) : null}
    </g>
  );
}
