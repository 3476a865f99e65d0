/** The stage and the lanes under it, on one ruler. */
import { useRef } from 'react';
import { outerRadius } from '../../cam/blank.ts';
import '../theme/lanes.css';
import { type Ruler, toPixel } from '../ruler.ts';
import { useShop } from '../shop.ts';
import { wantedHeight } from '../stage/framing.ts';
import { Stage } from '../stage/index.tsx';
import { CarvingLane } from './CarvingLane.tsx';
import { CuttingLane } from './CuttingLane.tsx';
import { FormLane } from './FormLane.tsx';
import { ProofLane } from './ProofLane.tsx';
import { Scale } from './Scale.tsx';
import { StrengthLane } from './StrengthLane.tsx';
import { useRuler, useRulerHands } from './use-ruler.ts';
import { whole } from './view.ts';

/** Height of the stage on a broad and on a narrow bench, px; for short thick work it grows up to the second of each. */
const HIGH = [236, 330] as const;
const LOW = [172, 240] as const;
const NARROW = 560;

/** High enough for the work as the whole ruler shows it; looking closer must not move the lanes. */
function useStageHeight(width: number): number {
  const job = useShop((s) => s.job ?? s.lastGood?.job);
  const [least, most] = width < NARROW ? LOW : HIGH;
  if (!job) return least;
  const radius = outerRadius(job.blank);
  return wantedHeight({ ...whole(job.blank, radius), width }, radius, least, most);
}

/** Dotted line at the pointer, through everything on the ruler. Walked around, the picture keeps to no ruler. */
function PointerLine({ ruler }: { ruler: Ruler }) {
  const x = useShop((s) => (s.orbit ? undefined : s.pointerX));
  if (x === undefined) return null;
  return (
    <div className="pointer-line" style={{ transform: `translateX(${toPixel(ruler, x)}px)` }} aria-hidden="true" />
  );
}

export function Bench() {
  const area = useRef<HTMLDivElement>(null);
  const [column, ruler] = useRuler();
  useRulerHands(area, column);
  const height = useStageHeight(ruler.width);
  return (
    <div className="lanes" ref={area}>
      <div className="lane-column" ref={column}>
        <PointerLine ruler={ruler} />
      </div>
      <div className="on-ruler zooms">
        <Stage ruler={ruler} height={height} />
        <Scale ruler={ruler} />
      </div>
      <FormLane ruler={ruler} />
      <CarvingLane ruler={ruler} />
      <CuttingLane ruler={ruler} />
      <StrengthLane ruler={ruler} />
      <ProofLane ruler={ruler} />
    </div>
  );
}
