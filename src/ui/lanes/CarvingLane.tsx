/** A bar for each carving: drag it, drag its ends, see its run-outs. */
import { memo, useState } from 'react';
import { type CarvingName, carvingKinds, defaultCarving } from '../../profiles/carvings/registry.ts';
import type { Layout } from '../../profiles/layout.ts';
import { handStep, lengthText, snapped, toDocument } from '../measure.ts';
import { type Ruler, toPixel } from '../ruler.ts';
import { actions, shop, useShop } from '../shop.ts';
import { type BarWords, barWords } from './bar-words.ts';
import { type CarvingBar, carvingBars, elementsUnder, magnet } from './carving-bars.ts';
import { carvingsOf, moveCarving, removeCarving } from './form-edits.ts';
import { Lane } from './Lane.tsx';
import { carvingDrawing } from './moulding.ts';
import { Palette } from './Palette.tsx';
import { rowsOf } from './packing.ts';
import { useDrag } from './use-drag.ts';

const ROW = 30;
const BAR = 24;
const STEP = 0.5;
const MAGNET_PX = 7;
/** Least distance of bars in one row, px. */
const GAP = 16;

/** Sets the ends of a carving; what lay over elements then lies from–to. */
function setEnds(index: number, from: number, to: number, gesture?: string): void {
  actions.change((draft) => {
    const c = carvingsOf(draft)[index]!;
    delete c.over;
    delete c.inset;
    c.from = toDocument(draft, from);
    c.to = toDocument(draft, to);
  }, gesture);
}

function Bar(props: { bar: CarvingBar; at: BarWords; ruler: Ruler; layout: Layout; y: number; picked: boolean }) {
  const { bar, at, ruler, layout, y, picked } = props;
  const shown = useShop((s) => s.shownUnits);
  const [x0, x1] = [toPixel(ruler, bar.from), toPixel(ruler, bar.to)];
  const perPixel = (ruler.to - ruler.from) / ruler.width;
  const step = handStep(STEP, shown);
  const length = layout.length;
  const place = (x: number) => Math.min(length, Math.max(0, magnet(snapped(x, step), layout, MAGNET_PX * perPixel)));
  const whole = useDrag({
    least: 4,
    begin: (gesture) => {
      actions.select({ kind: 'carving', index: bar.index });
      return ({ dx }) => {
        const by = Math.min(length - bar.to, Math.max(-bar.from, snapped(dx * perPixel, step)));
        setEnds(bar.index, bar.from + by, bar.to + by, gesture);
      };
    },
  });
  const end = (which: 'from' | 'to') => ({
    begin: (gesture: string) => {
      const { from, to } = bar;
      return ({ dx }: { dx: number }) => {
        if (which === 'from') setEnds(bar.index, Math.min(place(from + dx * perPixel), to - step), to, gesture);
        else setEnds(bar.index, from, Math.max(place(to + dx * perPixel), from + step), gesture);
      };
    },
  });
  const fromDrag = useDrag(end('from'));
  const toDrag = useDrag(end('to'));
  const key = (which: 'from' | 'to') => (e: React.KeyboardEvent) => {
    const by = { ArrowRight: step, ArrowUp: step, ArrowLeft: -step, ArrowDown: -step }[e.key];
    if (by === undefined) return;
    e.preventDefault();
    e.stopPropagation();
    const move = by * (e.shiftKey ? 10 : 1);
    if (which === 'from') setEnds(bar.index, Math.min(bar.to - step, Math.max(0, bar.from + move)), bar.to);
    else setEnds(bar.index, bar.from, Math.max(bar.from + step, Math.min(length, bar.to + move)));
  };
  const run0 = toPixel(ruler, bar.from + bar.chuckRun);
  const run1 = toPixel(ruler, bar.to - bar.tailRun);
  // Round run-outs are drawn as what they are: the bar rises to its full depth over their length.
  const shape = `M${x0} ${y + BAR}Q${x0} ${y} ${run0} ${y}H${run1}Q${x1} ${y} ${x1} ${y + BAR}Z`;
  const told = `${bar.words}, from ${lengthText(bar.from, shown)} to ${lengthText(bar.to, shown)}`;
  return (
    <g className="carving-bar" data-picked={picked || undefined}>
      <g
        role="option"
        tabIndex={0}
        aria-selected={picked}
        aria-label={told}
        onClick={() => actions.select({ kind: 'carving', index: bar.index })}
        onFocus={() => actions.select({ kind: 'carving', index: bar.index })}
        onKeyDown={(e) => {
          const by = { ArrowUp: -1, ArrowDown: 1 }[e.key];
          if (e.key === 'Delete' || e.key === 'Backspace') actions.change((d) => removeCarving(d, bar.index));
          else if (by !== undefined && e.altKey) {
            actions.change((d) => moveCarving(d, bar.index, bar.index + by));
            actions.select({ kind: 'carving', index: Math.max(0, bar.index + by) });
          } else return;
          e.preventDefault();
          e.stopPropagation();
        }}
        {...whole}
      >
        <path className="bar-shape" d={shape} />
        <title>{told}</title>
        {at.inside ? (
          <svg
            x={Math.max(0, x0)}
            y={y}
            width={Math.max(0, x1 - Math.max(0, x0) - 8)}
            height={BAR}
            overflow="hidden"
            aria-hidden="true"
          >
            <text x={at.x - Math.max(0, x0)} y={17}>
              {bar.words}
            </text>
          </svg>
        ) : (
          <text x={at.x} y={y + 17} textAnchor={at.anchor} data-beside>
            {bar.words}
          </text>
        )}
      </g>
      {(['from', 'to'] as const).map((which) => (
        <g
          key={which}
          className="grip grip-edge"
          role="slider"
          tabIndex={0}
          aria-label={`${bar.words}: where it ${which === 'from' ? 'starts' : 'ends'}`}
          aria-valuenow={which === 'from' ? bar.from : bar.to}
          aria-valuetext={lengthText(which === 'from' ? bar.from : bar.to, shown)}
          transform={`translate(${which === 'from' ? x0 : x1} ${y + BAR / 2})`}
          onKeyDown={key(which)}
          {...(which === 'from' ? fromDrag : toDrag)}
        >
          <circle className="grip-reach" r={12} />
          {picked ? <circle r={5} /> : null}
        </g>
      ))}
    </g>
  );
}

export const CarvingLane = memo(function CarvingLane({ ruler }: { ruler: Ruler }) {
  const part = useShop((s) => s.part);
  const layout = useShop((s) => s.layout);
  const shown = useShop((s) => s.shownUnits);
  const selection = useShop((s) => s.selection);
  const [open, setOpen] = useState(false);
  const [last, setLast] = useState<{ bars: CarvingBar[]; layout: Layout }>();
  const now = part && layout?.placed.length ? { bars: carvingBars(part, layout, shown), layout } : undefined;
  if (now && (last?.layout !== now.layout || last.bars.length !== now.bars.length)) setLast(now);
  const { bars, layout: on } = now ?? last ?? { bars: [], layout: undefined };
  const places = bars.map((b) => barWords(toPixel(ruler, b.from), toPixel(ruler, b.to), b.words, ruler.width));
  const rows = rowsOf(places, GAP);
  const height = Math.max(1, Math.max(0, ...rows) + 1) * ROW + 6;
  const picked = selection.kind === 'carving' ? selection.index : undefined;
  const bar = bars.find((b) => b.index === picked);

  const add = (kind: string) => {
    const at = shop.getState();
    const place = at.layout?.placed;
    if (!place?.length) return;
    // On the picked element, or on the longest: there it is seen.
    const index =
      at.selection.kind === 'element'
        ? at.selection.index
        : place.reduce((a, b) => (b.to - b.from > a.to - a.from && b.kind !== 'pommel' ? b : a)).index;
    const fresh = defaultCarving(kind as CarvingName) as unknown as Record<string, unknown>;
    delete fresh.from;
    delete fresh.to;
    const carvings = carvingsOf(at.raw).length;
    actions.change((draft) => {
      const list = carvingsOf(draft);
      for (const key of ['depth', 'width', 'diameter', 'run', 'pitch'])
        if (typeof fresh[key] === 'number') fresh[key] = toDocument(draft, fresh[key] as number);
      draft.carvings = [...list, { ...fresh, over: [index, index] }];
    });
    actions.select({ kind: 'carving', index: carvings });
    setOpen(false);
  };
  const hold = () => {
    if (!bar || !on) return;
    actions.change((draft) => {
      const c = carvingsOf(draft)[bar.index]!;
      const [first, end] = elementsUnder(bar.from, bar.to, on);
      delete c.from;
      delete c.to;
      c.over = [first, end];
      const inset = (bar.from - on.placed[first]!.from + on.placed[end]!.to - bar.to) / 2;
      if (inset > 0.01) c.inset = toDocument(draft, inset);
    });
  };

  return (
    <Lane
      name="Carving"
      selected={selection.kind === 'carving' || (selection.kind === 'step' && selection.step === 'carving')}
      note={bars.length ? (bars.length === 1 ? '1 carving' : `${bars.length} carvings`) : 'none'}
      onName={() => actions.select({ kind: 'step', step: 'carving' })}
    >
      {bars.length ? (
        <svg width={ruler.width} height={height}>
          <title>Carvings along the form</title>
          <g role="listbox" aria-label="Carvings">
            {bars.map((b, i) => (
              <Bar
                key={b.index}
                bar={b}
                at={places[i]!}
                ruler={ruler}
                layout={on!}
                y={rows[i]! * ROW + 6}
                picked={b.index === picked}
              />
            ))}
          </g>
        </svg>
      ) : null}
      <div className="tools">
        <button type="button" aria-expanded={open} onClick={() => setOpen(!open)}>
          Add a carving
        </button>
        {bar ? (
          <>
            <button type="button" disabled={bar.held} onClick={hold}>
              Tie to the elements under it
            </button>
            <button
              type="button"
              onClick={() => {
                actions.change((d) => removeCarving(d, bar.index));
                actions.select({ kind: 'step', step: 'carving' });
              }}
            >
              Take out
            </button>
          </>
        ) : null}
        {open ? (
          <Palette
            label="Carvings"
            entries={carvingKinds.map((k) => ({ ...k, drawing: carvingDrawing(k.kind, 52) }))}
            onPick={add}
            onClose={() => setOpen(false)}
          />
        ) : null}
      </div>
    </Lane>
  );
});
