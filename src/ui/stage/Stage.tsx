/** The stage: the part in its ghosted blank between what holds it, the bit above, all to the scale of the shared ruler. */
import { Canvas } from '@react-three/fiber';
import { useMemo } from 'react';
import { outerRadius } from '../../cam/blank.ts';
import type { Job } from '../../cam/job.ts';
import type { Ruler } from '../ruler.ts';
import { actions, useShop } from '../shop.ts';
import { BitShown } from './BitShown.tsx';
import { Ghost } from './Blank.tsx';
import { FreeEye, StraightEye } from './Eyes.tsx';
import { frame } from './framing.ts';
import { useHands } from './hands.ts';
import { Labels, roomLeft } from './Labels.tsx';
import { Chuck, Tailstock } from './Machine.tsx';
import { type Palette, usePalette } from './palette.ts';
import { touchHeight } from './touch.ts';
import { Wood } from './Wood.tsx';

/** Where the bit stands and what is said of it. */
function useBit(job: Job | undefined) {
  const pointerX = useShop((s) => s.pointerX);
  const turned = useShop((s) => s.turned);
  return useMemo(() => {
    if (!job) return undefined;
    const { bit } = job.tools.finishing;
    const rest = job.field.from + 0.45 * (job.field.to - job.field.from);
    const reach = Math.min(job.blank.to, Math.max(job.blank.from, pointerX ?? rest));
    const on = Math.min(job.field.to, Math.max(job.field.from, reach));
    const tip = on === reach ? touchHeight(job.field, bit, reach, turned) : outerRadius(job.blank);
    const top = bit.stickOut + bit.holderLength;
    return { bit, x: reach, tip, top, text: bit.label, clear: roomLeft(job, tip, top) };
  }, [job, pointerX, turned]);
}

function Lights({ palette }: { palette: Palette }) {
  return (
    <>
      <hemisphereLight
        args={[palette.dark ? '#cfd6da' : '#fffaf0', palette['wood-deep'], palette.dark ? 0.75 : 1.05]}
      />
      <directionalLight position={[-300, -500, 700]} intensity={palette.dark ? 1.9 : 2.1} />
      <directionalLight position={[500, -700, -100]} intensity={0.35} />
      <directionalLight position={[200, 500, 300]} intensity={0.5} />
    </>
  );
}

export default function Stage({ ruler, height }: { ruler: Ruler; height: number }) {
  const palette = usePalette();
  const job = useShop((s) => s.job ?? s.lastGood?.job);
  const field = useShop((s) => s.lastGood?.field);
  const turned = useShop((s) => s.turned);
  const orbit = useShop((s) => s.orbit);
  const hands = useHands(ruler);
  const bitAt = useBit(job);
  const radius = job ? outerRadius(job.blank) : (field?.maxRadius ?? 20);
  const framing = frame(ruler, height, radius);
  return (
    <div
      role="application"
      className="stage"
      style={{ height }}
      // biome-ignore lint/a11y/noNoninteractiveTabindex: arrow keys move and turn the picture.
      tabIndex={0}
      aria-label="The part in its blank: arrow keys move along and turn"
      {...hands}
    >
      <Canvas
        frameloop="demand"
        dpr={[1, 2]}
        flat={false}
        gl={{ antialias: true, alpha: true, preserveDrawingBuffer: false }}
        resize={{ debounce: 0, scroll: false }}
      >
        {orbit ? <FreeEye ruler={ruler} /> : <StraightEye ruler={ruler} framing={framing} />}
        <Lights palette={palette} />
        <group rotation={[-turned, 0, 0]}>
          <Wood palette={palette} visible />
          {job ? <Ghost blank={job.blank} palette={palette} dash={6 * framing.perPixel} /> : null}
          {job ? <Chuck job={job} palette={palette} /> : null}
        </group>
        {job ? <Tailstock job={job} palette={palette} /> : null}
        {bitAt ? (
          <group position={[bitAt.x, 0, bitAt.tip]}>
            <BitShown bit={bitAt.bit} palette={palette} />
          </group>
        ) : null}
      </Canvas>
      {job && !orbit ? <Labels ruler={ruler} framing={framing} height={height} job={job} bitAt={bitAt} /> : null}
      <button type="button" className="stage-look" aria-pressed={orbit} onClick={() => actions.set({ orbit: !orbit })}>
        {orbit ? 'Back to the ruler' : 'Walk around it'}
      </button>
    </div>
  );
}
