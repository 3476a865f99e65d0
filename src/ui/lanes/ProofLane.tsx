/** The unrolled surface after the last program: what is left, what is gouged, what no bit reaches. */
import { memo, useEffect, useRef, useState } from 'react';
import { degrees, radians, TURN, wrapTurn } from '../../../shared/units.ts';
import { lengthText } from '../measure.ts';
import { type Ruler, toMm, toPixel } from '../ruler.ts';
import { actions, useShop } from '../shop.ts';
import { findingWords } from '../state/place-words.ts';
import { useBuilt } from './built.ts';
import { Lane } from './Lane.tsx';
import { type Inks, type Mark, paint, type Spot, spotAt } from './proof-picture.ts';

const HEIGHT = 92;
/** What one press of an arrow key goes: share of the form, and turn. */
const KEY_SHARE = 1 / 50;
const KEY_TURN = TURN / 36;
const MARK_WORDS: Record<Mark, string> = {
  clean: 'clean',
  left: 'wood left',
  gouged: 'gouged',
  unreachable: 'no bit of this job reaches it',
};

function inkOf(name: string): readonly [number, number, number] {
  const text = getComputedStyle(document.documentElement).getPropertyValue(name).trim();
  const n = Number.parseInt(text.slice(1), 16);
  return [(n >> 16) & 255, (n >> 8) & 255, n & 255];
}

export const ProofLane = memo(function ProofLane({ ruler }: { ruler: Ruler }) {
  const { built, fresh } = useBuilt();
  const tolerance = useShop((s) => s.lastGood?.job?.tolerance ?? s.part?.tolerance ?? 0);
  const turned = useShop((s) => s.turned);
  const theme = useShop((s) => s.theme);
  const shown = useShop((s) => s.shownUnits);
  const selection = useShop((s) => s.selection);
  const canvas = useRef<HTMLCanvasElement>(null);
  const [spot, setSpot] = useState<Spot>();
  const left = built?.leftOver;
  const { from, to, width } = ruler;
  useEffect(() => {
    const on = canvas.current;
    const ink = on?.getContext('2d');
    if (!on || !ink) return;
    ink.clearRect(0, 0, on.width, on.height);
    if (!left) return;
    const inks: Inks = {
      clean: inkOf('--verdigris'),
      left: inkOf('--wood'),
      gouged: inkOf('--madder'),
      unreachable: inkOf('--ochre'),
    };
    const image = ink.createImageData(on.width, on.height);
    paint(left, image.data, on.width, on.height, { from, to }, tolerance, inks);
    ink.putImageData(image, 0, 0);
  }, [left, from, to, width, tolerance, theme]);
  const at = (e: React.PointerEvent): Spot | undefined => {
    if (!left) return undefined;
    const box = e.currentTarget.getBoundingClientRect();
    return spotAt(left, toMm(ruler, e.clientX - box.left), (e.clientY - box.top) / HEIGHT, tolerance);
  };
  const turnTo = (found: Spot | undefined) => {
    if (found) actions.set({ turned: -found.theta });
  };
  /** Arrow keys carry the spot over the surface, Enter turns the stage there. */
  const byKey = (e: React.KeyboardEvent) => {
    if (!left?.xs.length) return;
    if (e.key === 'Enter') {
      e.preventDefault();
      turnTo(spot);
      return;
    }
    const way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[e.key];
    if (!way) return;
    e.preventDefault();
    e.stopPropagation();
    const [first, last] = [left.xs[0]!, left.xs.at(-1)!];
    const x = (spot?.x ?? (first + last) / 2) + way[0]! * KEY_SHARE * (last - first);
    const theta = (spot?.theta ?? 0) + way[1]! * KEY_TURN + TURN / left.thetas / 2;
    const inside = Math.min(last, Math.max(first, x));
    setSpot(spotAt(left, inside, wrapTurn(theta) / TURN, tolerance));
    actions.set({ pointerX: inside });
  };
  const findings = built?.findings.filter((f) => f.severity === 'refuse') ?? [];
  return (
    <Lane
      name="Proof"
      selected={selection.kind === 'step' && selection.step === 'proof'}
      note={built ? `${built.verdict}${fresh ? '' : ', before the last change'}` : 'unrolled; not proven yet'}
      onName={() => actions.select({ kind: 'step', step: 'proof' })}
    >
      <div className="proof-map" data-stale={(built && !fresh) || undefined}>
        {left ? (
          <div
            className="proof-surface"
            role="application"
            aria-label="Unrolled surface, told in words below: arrow keys go over it, Enter turns the stage there"
            // biome-ignore lint/a11y/noNoninteractiveTabindex: arrow keys go over it
            tabIndex={0}
            onKeyDown={byKey}
            onBlur={() => setSpot(undefined)}
            onPointerMove={(e) => setSpot(at(e))}
            onPointerLeave={() => setSpot(undefined)}
            onClick={(e) => turnTo(at(e as unknown as React.PointerEvent))}
          >
            <canvas ref={canvas} width={width} height={HEIGHT} />
          </div>
        ) : (
          <p className="proof-empty">
            Prove it: the programs are written, read back and cut in the wood, and this shows what they leave.
          </p>
        )}
        {left ? (
          <div className="proof-up" style={{ top: (wrapTurn(-turned) / TURN) * HEIGHT }} aria-hidden="true" />
        ) : null}
        {findings.map((f) => (
          <button
            type="button"
            key={`${f.file} ${f.line} ${f.code}`}
            className="proof-finding"
            title={findingWords(f)}
            aria-label={`Finding: ${findingWords(f)}`}
            style={{
              left: toPixel(ruler, f.x),
              top: (wrapTurn(radians(f.theta_deg)) / TURN) * HEIGHT,
            }}
            onClick={() => actions.set({ turned: -radians(f.theta_deg), notice: findingWords(f) })}
          >
            !
          </button>
        ))}
      </div>
      <p className="proof-words" aria-live="polite">
        {spot
          ? `at ${lengthText(spot.x, shown)}, ${degrees(spot.theta).toFixed(0)}°: ${MARK_WORDS[spot.mark]}, ${
              spot.rest < 0
                ? `${lengthText(-spot.rest, shown, 0.001)} under`
                : `${lengthText(spot.rest, shown, 0.001)} over`
            }${spot.unreachable > 0.001 ? `, ${lengthText(spot.unreachable, shown, 0.001)} out of reach` : ''}`
          : built
            ? `deepest gouge ${lengthText(built.deepestGouge, shown, 0.001)} of ${lengthText(tolerance, shown, 0.001)} allowed; 99 % of the form has at most ${lengthText(built.restP99, shown, 0.001)} left`
            : ''}
        {left ? (
          <span className="proof-legend">
            <i className="key-clean" /> clean <i className="key-left" /> left <i className="key-unreachable" /> out of
            reach <i className="key-gouged" /> gouged
          </span>
        ) : null}
      </p>
    </Lane>
  );
});
