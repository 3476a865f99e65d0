/** How far the part gives under the bit along its length, how near it comes to breaking, and its section at the pointer. */
import { memo } from 'react';
import { TURN } from '../../../shared/units.ts';
import type { StationDetail } from '../../cam/strength.ts';
import type { Field } from '../../profiles/field.ts';
import { lengthNumber, lengthText } from '../measure.ts';
import { type Ruler, toPixel } from '../ruler.ts';
import { actions, useShop } from '../shop.ts';
import { fitOf, giveText } from '../state/steps.ts';
import { Lane } from './Lane.tsx';
import { givePath, giveY, gradeStretches, stationAt, type Upward } from './strength-picture.ts';

const HEIGHT = 74;
const TOP = 8;
const BASE = 50;
const RIBBON = { y: 57, height: 12 } as const;
const SECTION = 40;
const ANGLES = 180;

/** The section across the part at x, θ = 0 at the top. */
function sectionPath(field: Field, x: number): string {
  const scale = (SECTION / 2 - 2) / field.maxRadius;
  if (field.isRound(x, x)) {
    const r = field.radius(x, 0) * scale;
    return `M${SECTION / 2} ${SECTION / 2 - r}a${r} ${r} 0 1 0 0 ${2 * r}a${r} ${r} 0 1 0 0 ${-2 * r}Z`;
  }
  const thetas = Float64Array.from({ length: ANGLES }, (_, j) => (j * TURN) / ANGLES);
  const radii = new Float64Array(ANGLES);
  field.ring(x, thetas, radii);
  const points = Array.from(radii, (r, j) => {
    const theta = thetas[j]!;
    return `${(SECTION / 2 - r * scale * Math.sin(theta)).toFixed(1)} ${(SECTION / 2 - r * scale * Math.cos(theta)).toFixed(1)}`;
  });
  return `M${points.join('L')}Z`;
}

/** Beyond a hundred the number says nothing more. */
const times = (factor: number) => (factor >= 100 ? 'over 100' : factor < 10 ? factor.toFixed(1) : factor.toFixed(0));

/** Share of the feed that counts as all of it. */
const FULL_FEED = 0.995;

/** What is true of the bar at one place, in words. */
function wordsAt(s: StationDetail, shown: 'mm' | 'inch'): string {
  const fine = (mm: number) => giveText(mm, shown);
  const slowed = (stage: string, share: number) =>
    share < FULL_FEED ? [`${stage} slowed to ${Math.round(100 * share)} %`] : [];
  return [
    `gives ${fine(s.deflection)} in ${s.bendsIn}`,
    `${fine(s.finishing)} in finishing`,
    `twists ${fine(s.twist)}`,
    `holds ${times(s.safetyFactor)} times the load in ${s.weakestIn}`,
    ...slowed('roughing', s.roughingFeed),
    ...slowed('finishing', s.finishingFeed),
  ].join(', ');
}

/** Told apart by their grain as well as by their colour. */
function Grains() {
  return (
    <defs>
      <pattern id="grain-spare" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
        <rect className="grade-spare" width="3" height="6" />
      </pattern>
      <pattern id="grain-weak" width="4" height="4" patternUnits="userSpaceOnUse">
        <rect className="grade-weak" width="4" height="4" />
        <rect className="grade-dot" x="1" y="1" width="2" height="2" />
      </pattern>
    </defs>
  );
}

export const StrengthLane = memo(function StrengthLane({ ruler }: { ruler: Ruler }) {
  const field = useShop((s) => s.lastGood?.field);
  const limit = useShop((s) => (s.job ?? s.lastGood?.job)?.tolerance ?? 0);
  // Of a part that fits no bench as it is now, what the last one held says nothing.
  const strength = useShop((s) => (s.job ? fitOf(s)?.strength : undefined));
  const pointerX = useShop((s) => s.pointerX);
  const shown = useShop((s) => s.shownUnits);
  const selection = useShop((s) => s.selection);
  const stations = strength?.stations ?? [];
  const across = (x: number) => toPixel(ruler, x);
  const up: Upward = { base: BASE, top: TOP, most: Math.max(strength?.worstDeflection ?? 0, 1.5 * limit, 1e-6) };
  const here = pointerX === undefined ? undefined : stationAt(stations, pointerX);
  const x = field ? Math.min(field.length, Math.max(0, pointerX ?? field.length / 2)) : 0;
  const [least, largest] = field?.bounds(x, x) ?? [0, 0];
  const slender = field ? field.length / (2 * field.minRadius) : 0;
  const section =
    Math.abs(largest - least) < 0.01
      ? `ø${lengthText(2 * largest, shown)}`
      : `${lengthNumber(2 * least, shown)}–${lengthText(2 * largest, shown)} across`;
  return (
    <Lane
      name="Strength"
      selected={selection.kind === 'step' && selection.step === 'strength'}
      note={field ? `${Math.round(slender)} times as long as thin` : ''}
      onName={() => actions.select({ kind: 'step', step: 'strength' })}
    >
      <svg
        width={ruler.width}
        height={HEIGHT}
        role="img"
        aria-label="Give under the bit and safety along the part; told in words below"
      >
        <Grains />
        {strength ? (
          <>
            <path
              className="give-shows"
              d={`${givePath(stations, (s) => s.finishing, across, up)}V${BASE}H${across(stations[0]!.x)}Z`}
            />
            <line className="give-limit" x1={0} x2={ruler.width} y1={giveY(up, limit)} y2={giveY(up, limit)} />
            <path className="give" d={givePath(stations, (s) => s.deflection, across, up)} />
            <circle className="give-worst" r={4} cx={across(strength.atX)} cy={giveY(up, strength.worstDeflection)} />
            {gradeStretches(stations).map((s) => (
              <rect
                key={s.from}
                {...(s.grade === 'firm' ? { className: 'grade-firm' } : { fill: `url(#grain-${s.grade})` })}
                x={across(s.from)}
                width={Math.max(1, across(s.to) - across(s.from))}
                {...RIBBON}
              />
            ))}
            {here ? <circle className="give-here" r={4} cx={across(here.x)} cy={giveY(up, here.deflection)} /> : null}
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
            at {lengthText(x, shown)}: {section}
            {here ? `, ${wordsAt(here, shown)}` : ''}
          </p>
          {strength && !here ? (
            <p>
              {`gives at most ${giveText(strength.worstDeflection, shown)} at ${lengthText(strength.atX, shown)}, in finishing ${giveText(strength.finishingDeflection, shown)} of ${giveText(limit, shown)} allowed (dashed); holds ${times(strength.safetyFactor)} times the load`}
            </p>
          ) : null}
          <p className="strength-legend">
            <i className="key-shows" /> shows on the work <i className="key-firm" /> holds <i className="key-spare" />{' '}
            under 4 times <i className="key-weak" /> under 2
          </p>
        </div>
      ) : null}
    </Lane>
  );
});
