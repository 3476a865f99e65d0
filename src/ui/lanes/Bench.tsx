/** The stage and the lanes under it, on one ruler. */
import { useRef } from 'react';
import '../theme/lanes.css';
import { toPixel } from '../ruler.ts';
import { useShop } from '../shop.ts';
import { Stage } from '../stage/index.tsx';
import { CarvingLane } from './CarvingLane.tsx';
import { CuttingLane } from './CuttingLane.tsx';
import { FormLane } from './FormLane.tsx';
import { ProofLane } from './ProofLane.tsx';
import { Scale } from './Scale.tsx';
import { StrengthLane } from './StrengthLane.tsx';
import { useRuler, useRulerHands } from './use-ruler.ts';

/** Height of the stage on a broad and on a narrow bench, px. */
const HIGH = 236;
const LOW = 172;
const NARROW = 560;

/** Dotted line at the pointer, through everything on the ruler. */
function PointerLine({ at }: { at: number }) {
  return <div className="pointer-line" style={{ transform: `translateX(${at}px)` }} aria-hidden="true" />;
}

export function Bench() {
  const area = useRef<HTMLDivElement>(null);
  const [column, ruler] = useRuler();
  useRulerHands(area, column);
  const pointerX = useShop((s) => s.pointerX);
  return (
    <div className="lanes" ref={area}>
      <div className="lane-column" ref={column}>
        {pointerX === undefined ? null : <PointerLine at={toPixel(ruler, pointerX)} />}
      </div>
      <div className="on-ruler zooms">
        <Stage ruler={ruler} height={ruler.width < NARROW ? LOW : HIGH} />
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
