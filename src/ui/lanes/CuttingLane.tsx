/** Stages as bands: where each cuts, with which bit, in how many passes, how long. */
import { memo } from 'react';
import { lengthText } from '../measure.ts';
import { type Ruler, toPixel } from '../ruler.ts';
import { actions, useShop } from '../shop.ts';
import { barWords } from './bar-words.ts';
import { useBuilt } from './built.ts';
import { Lane } from './Lane.tsx';
import { rowsOf } from './packing.ts';
import { timeWords } from './words.ts';

const ROW = 26;
const BAND = 22;
/** Least distance of bands in one row, px. */
const GAP = 16;

export const CuttingLane = memo(function CuttingLane({ ruler }: { ruler: Ruler }) {
  const { built, fresh } = useBuilt();
  const job = useShop((s) => s.job);
  const shown = useShop((s) => s.shownUnits);
  const selection = useShop((s) => s.selection);
  const bands = (built?.stages ?? []).filter((s) => s.to > s.from);
  const tools = job ? [job.tools.roughing, job.tools.finishing, ...job.tools.detail, ...job.tools.drills] : [];
  const bits = [...new Map(tools.map((t) => [t.bit.id, t])).values()];
  // A refused program is kept under a name that says so; its stages are told under its own.
  const bitOf = (file: string) =>
    built?.programs.find((p) => p.file.replace('.UNPROVEN', '') === file.replace('.UNPROVEN', ''))?.bit;
  const drawn = bands.map((s) => {
    const passes = `${s.passes} pass${s.passes === 1 ? '' : 'es'}`;
    const words = [s.stage, bitOf(s.file), passes, timeWords(s.time_s)].filter(Boolean).join(' · ');
    const [x0, x1] = [toPixel(ruler, s.from), toPixel(ruler, s.to)];
    return { s, x0, x1, words, at: barWords(x0, x1, words, ruler.width) };
  });
  const rows = rowsOf(
    drawn.map((d) => d.at),
    GAP,
  );
  const height = bands.length ? (Math.max(0, ...rows) + 1) * ROW + 6 : 40;
  return (
    <Lane
      name="Cutting"
      selected={selection.kind === 'step' && selection.step === 'cutting'}
      note={built ? `${timeWords(built.time_s)}${fresh ? '' : ', before the last change'}` : 'not planned yet'}
      onName={() => actions.select({ kind: 'step', step: 'cutting' })}
    >
      {bands.length ? (
        <svg width={ruler.width} height={height} data-stale={!fresh || undefined}>
          <title>Stages of the cutting</title>
          {drawn.map(({ s, x0, x1, words, at }, i) => {
            const y = rows[i]! * ROW + 5;
            return (
              <g
                key={`${s.file} ${s.stage}`}
                className={`band band-${/finish|detail|groove/.test(s.stage) ? 'fine' : 'bulk'}`}
              >
                <title>{words}</title>
                <rect x={x0} y={y} width={Math.max(2, x1 - x0)} height={BAND} rx={5} />
                <text x={at.x} y={y + 15.5} textAnchor={at.anchor} data-beside={!at.inside || undefined}>
                  {words}
                </text>
              </g>
            );
          })}
        </svg>
      ) : (
        <p className="cutting-bits">
          {bits
            .map(
              (t) =>
                `${t.bit.label}: reaches ${lengthText(t.bit.reach, shown)}, takes ${lengthText(t.limits.stepDown, shown)} a layer`,
            )
            .join(' · ') || 'Bits are chosen once the form is right'}
        </p>
      )}
    </Lane>
  );
});
