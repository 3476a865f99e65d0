/** The stage: the part in its ghosted blank between what holds it, the bit above, all to the scale of the shared ruler. */
import './three-console.ts';
import { Canvas } from '@react-three/fiber';
import { memo, useMemo } from 'react';
import { outerRadius } from '../../cam/blank.ts';
import type { Ruler } from '../ruler.ts';
import { actions, useShop } from '../shop.ts';
import { BitShown } from './BitShown.tsx';
import { Ghost } from './Blank.tsx';
import { CutWood } from './CutWood.tsx';
import { FreeEye, StraightEye } from './Eyes.tsx';
import { type Framing, frame } from './framing.ts';
import { useHands } from './hands.ts';
import { Labels, WordsAbove } from './Labels.tsx';
import { Chuck, Tailstock } from './Machine.tsx';
import { Paced } from './Paced.tsx';
import { type Palette, usePalette } from './palette.ts';
import { useBit } from './use-bit.ts';
import { useCut, useJob, useTurn } from './use-play.ts';
import { Wood } from './Wood.tsx';

/** Narrower pictures have no free ground for their words, px. */
const WORDS_FIT = 560;

function Lights({ palette }: { palette: Palette }) {
  return (
    <>
      <hemisphereLight
        args={[palette.dark ? '#cfd6da' : '#fffaf0', palette['wood-deep'], palette.dark ? 0.75 : 1.05]}
      />
      <directionalLight position={[-300, -520, 620]} intensity={palette.dark ? 1.9 : 2.2} />
      <directionalLight position={[260, -900, 120]} intensity={0.6} />
      <directionalLight position={[200, 500, 300]} intensity={0.5} />
    </>
  );
}

/** What turns: the part, its blank and what drives it. */
function Work({ palette, dash }: { palette: Palette; dash: number }) {
  const job = useJob();
  const cut = useCut();
  const turned = useTurn(cut);
  return (
    <group rotation={[-turned, 0, 0]}>
      <Wood palette={palette} visible={!cut} />
      {cut ? <CutWood loaded={cut} palette={palette} /> : null}
      {job && !cut ? <Ghost blank={job.blank} palette={palette} dash={dash} /> : null}
      {job ? <Chuck job={job} palette={palette} /> : null}
    </group>
  );
}

/** What stands: the tailstock and the bit. */
function Standing({ palette }: { palette: Palette }) {
  const job = useJob();
  const at = useBit(job, useCut());
  return (
    <>
      {job ? <Tailstock job={job} palette={palette} /> : null}
      {at ? (
        <group position={[at.x, 0, at.tip]}>
          <BitShown bit={at.bit} palette={palette} />
        </group>
      ) : null}
    </>
  );
}

/** The picture. Kept from everything that only its own pieces look at: a step of a slider must not lay the whole scene anew. */
const Picture = memo(function Picture(props: { ruler: Ruler; framing: Framing; orbit: boolean; palette: Palette }) {
  const { ruler, framing, orbit, palette } = props;
  return (
    <Canvas
      frameloop="demand"
      dpr={[1, 2]}
      flat={false}
      gl={{ antialias: true, alpha: true, preserveDrawingBuffer: false }}
      resize={{ debounce: 0, scroll: false }}
    >
      {orbit ? <FreeEye ruler={ruler} /> : <StraightEye ruler={ruler} framing={framing} />}
      <Lights palette={palette} />
      <Work palette={palette} dash={6 * framing.perPixel} />
      <Standing palette={palette} />
      <Paced />
    </Canvas>
  );
});

/** Words and lines about the picture: over it, or above it where it is narrow. */
function Words({
  ruler,
  framing,
  height,
  narrow,
}: {
  ruler: Ruler;
  framing: Framing;
  height: number;
  narrow: boolean;
}) {
  const job = useJob();
  const at = useBit(job, useCut());
  return job ? <Labels ruler={ruler} framing={framing} height={height} job={job} bitAt={at} wordless={narrow} /> : null;
}

function NarrowWords() {
  const job = useJob();
  const at = useBit(job, useCut());
  return job ? <WordsAbove job={job} bitAt={at} /> : null;
}

export default function Stage({ ruler, height }: { ruler: Ruler; height: number }) {
  const palette = usePalette();
  const radius = useShop((s) => {
    const job = s.job ?? s.lastGood?.job;
    return job ? outerRadius(job.blank) : (s.lastGood?.field.maxRadius ?? 20);
  });
  const orbit = useShop((s) => s.orbit);
  const hands = useHands(ruler);
  const framing = useMemo(() => frame(ruler, height, radius), [ruler, height, radius]);
  const narrow = ruler.width < WORDS_FIT;
  return (
    <>
      {!orbit && narrow ? <NarrowWords /> : null}
      <div
        role="application"
        className="stage"
        style={{ height }}
        // biome-ignore lint/a11y/noNoninteractiveTabindex: arrow keys move and turn the picture.
        tabIndex={0}
        aria-label="The part in its blank: arrow keys move along and turn"
        {...hands}
      >
        <Picture ruler={ruler} framing={framing} orbit={orbit} palette={palette} />
        {orbit ? null : <Words ruler={ruler} framing={framing} height={height} narrow={narrow} />}
        <button
          type="button"
          className="stage-look"
          aria-pressed={orbit}
          onClick={() => actions.set({ orbit: !orbit })}
        >
          {orbit ? 'Back to the ruler' : 'Walk around it'}
        </button>
      </div>
    </>
  );
}
