/** How far the part gives under the bit along its length, how slender it is, and its section at the pointer. */
import { useMemo } from 'react';
import { TURN } from '../../../shared/units.ts';
import { strengthOf } from '../../cam/strength.ts';
import type { Field } from '../../profiles/field.ts';
import { lengthNumber, lengthText } from '../measure.ts';
import { type Ruler, toPixel } from '../ruler.ts';
import { actions, useShop } from '../shop.ts';
import { Lane } from './Lane.tsx';
import { useSettled } from './settled.ts';

const HEIGHT = 54;
const TOP = 10;
const SECTION = 40;
const ANGLES = 180;
/** How long the hand rests before strength is worked out again, ms. */
const REST = 180;

/** The section across the part at x, θ = 0 at the top. */
function sectionPath(field: Field, x: number): string {
  const thetas = Float64Array.from({ length: ANGLES }, (_, j) => (j * TURN) / ANGLES);
  const radii = new Float64Array(ANGLES);
  field.ring(x, thetas, radii);
  const scale = (SECTION / 2 - 2) / field.maxRadius;
  const points = Array.from(radii, (r, j) => {
    const theta = thetas[j]!;
    return `${(SECTION / 2 - r * scale * Math.sin(theta)).toFixed(1)} ${(SECTION / 2 - r * scale * Math.cos(theta)).toFixed(1)}`;
  });
  return `M${points.join('L')}Z`;
}

export function StrengthLane({ ruler }: { ruler: Ruler }) {
  const jobNow = useShop((s) => s.lastGood?.job);
  const field = useShop((s) => s.lastGood?.field);
  const pointerX = useShop((s) => s.pointerX);
  const shown = useShop((s) => s.shownUnits);
  const selection = useShop((s) => s.selection);
  const job = useSettled(jobNow, REST);
  const strength = useMemo(() => job && strengthOf(job), [job]);
  const most = strength?.worstDeflection ?? 0;
  const limit = job?.tolerance ?? 0;
  const top = Math.max(most, limit, 1e-6);
  const y = (give: number) => HEIGHT - 8 - (give / top) * (HEIGHT - 8 - TOP);
  const line = strength?.along
    .map((s, i) => `${i ? 'L' : 'M'}${toPixel(ruler, s.x).toFixed(1)} ${y(s.deflection).toFixed(1)}`)
    .join('');
  const x = field ? Math.min(field.length, Math.max(0, pointerX ?? field.length / 2)) : 0;
  const [least, largest] = field?.bounds(x, x) ?? [0, 0];
  const slender = field ? field.length / (2 * field.minRadius) : 0;
  const across =
    Math.abs(largest - least) < 0.01
      ? `ø${lengthNumber(2 * largest, shown)}`
      : `${lengthNumber(2 * least, shown)}–${lengthNumber(2 * largest, shown)} across`;
  return (
    <Lane
      name="Strength"
      selected={selection.kind === 'step' && selection.step === 'strength'}
      note={field ? `${Math.round(slender)} times as long as thin` : ''}
      onName={() => actions.select({ kind: 'step', step: 'strength' })}
    >
      <svg width={ruler.width} height={HEIGHT}>
        <title>Give under the bit along the part</title>
        {strength && line ? (
          <>
            <line className="give-limit" x1={0} x2={ruler.width} y1={y(limit)} y2={y(limit)} />
            <path className="give" d={line} />
            <circle className="give-worst" r={4} cx={toPixel(ruler, strength.atX)} cy={y(most)} />
          </>
        ) : (
          <text x={8} y={HEIGHT / 2}>
            Stands here once the part fits its blank and bench
          </text>
        )}
      </svg>
      {field ? (
        <div className="strength-words">
          <svg className="section-at" width={SECTION} height={SECTION} aria-hidden="true">
            <path d={sectionPath(field, x)} />
          </svg>
          <p>
            at {lengthNumber(x, shown)}: {across}
          </p>
          {strength ? (
            <p>
              {`gives ${lengthText(most, shown, 0.01)} at ${lengthText(strength.atX, shown)}, under finishing ${lengthText(strength.finishingDeflection, shown, 0.01)} of ${lengthText(limit, shown, 0.01)} allowed (dashed); holds ${strength.safetyFactor.toFixed(1)} times the load`}
            </p>
          ) : null}
        </div>
      ) : null}
    </Lane>
  );
}
