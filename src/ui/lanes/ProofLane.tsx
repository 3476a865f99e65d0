/** The unrolled surface after the last program: what is left, what is gouged, what no bit reaches. */
import { useEffect, useRef, useState } from 'react';
import { degrees, wrapTurn } from '../../../shared/units.ts';
import { lengthText } from '../measure.ts';
import { type Ruler, toMm, toPixel } from '../ruler.ts';
import { actions, useShop } from '../shop.ts';
import { useBuilt } from './built.ts';
import { Lane } from './Lane.tsx';
import { type Inks, type Mark, paint, type Spot, spotAt } from './proof-picture.ts';

const HEIGHT = 92;
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

export function ProofLane({ ruler }: { ruler: Ruler }) {
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
          <canvas
            ref={canvas}
            width={width}
            height={HEIGHT}
            aria-label="Unrolled surface; what it shows is told in words below"
            role="img"
            onPointerMove={(e) => setSpot(at(e))}
            onPointerLeave={() => setSpot(undefined)}
            onClick={(e) => {
              const found = at(e as unknown as React.PointerEvent);
              if (found) actions.set({ turned: -found.theta });
            }}
          />
        ) : (
          <p className="proof-empty">
            Prove it: the programs are written, read back and cut in the wood, and this shows what they leave.
          </p>
        )}
        {left ? (
          <div className="proof-up" style={{ top: (wrapTurn(-turned) / (2 * Math.PI)) * HEIGHT }} aria-hidden="true" />
        ) : null}
        {findings.map((f) => (
          <button
            type="button"
            key={`${f.file} ${f.line} ${f.code}`}
            className="proof-finding"
            title={`${f.message}. ${f.fix}`}
            aria-label={`Finding: ${f.message}. ${f.fix}`}
            style={{
              left: toPixel(ruler, f.x),
              top: (wrapTurn((f.theta_deg / 360) * 2 * Math.PI) / (2 * Math.PI)) * HEIGHT,
            }}
            onClick={() =>
              actions.set({ turned: -(f.theta_deg / 360) * 2 * Math.PI, notice: `${f.message}. ${f.fix}` })
            }
          >
            !
          </button>
        ))}
      </div>
      <p className="proof-words">
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
}
