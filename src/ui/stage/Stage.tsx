/** The stage: the part in its ghosted blank between what holds it, the bit above, all to the scale of the shared ruler. */
import './three-console.ts';
import { Canvas } from '@react-three/fiber';
import { useMemo, useRef } from 'react';
import { useStore } from 'zustand';
import type { Bit } from '../../../shared/catalog.ts';
import { outerRadius } from '../../cam/blank.ts';
import type { Job } from '../../cam/job.ts';
import { momentAt } from '../../cam/proof/reel.ts';
import { readoutAt } from '../play/readout.ts';
import { type Loaded, session } from '../play/session.ts';
import type { Ruler } from '../ruler.ts';
import { actions, useShop } from '../shop.ts';
import { BitShown } from './BitShown.tsx';
import { Ghost } from './Blank.tsx';
import { CutWood } from './CutWood.tsx';
import { FreeEye, StraightEye } from './Eyes.tsx';
import { frame } from './framing.ts';
import { useHands } from './hands.ts';
import { Labels, roomLeft, WordsAbove } from './Labels.tsx';
import { Chuck, Tailstock } from './Machine.tsx';
import { type Palette, usePalette } from './palette.ts';
import { touchHeight } from './touch.ts';
import { Wood } from './Wood.tsx';

/** Turns in a second beyond which the eye sees nothing but flicker. */
const FASTEST_SHOWN = 0.6;
/** Narrower pictures have no free ground for their words, px. */
const WORDS_FIT = 560;
const stillWished = () => matchMedia('(prefers-reduced-motion: reduce)').matches;

/** Where the bit stands and what is said of it: at the playhead, else on the surface under the pointer. */
function useBit(job: Job | undefined, loaded: Loaded | undefined) {
  const pointerX = useShop((s) => s.pointerX);
  const turned = useShop((s) => s.turned);
  const playAt = useShop((s) => s.playAt);
  return useMemo(() => {
    if (!job) return undefined;
    const stand = (bit: Bit, x: number, tip: number) => {
      const top = bit.stickOut + bit.holderLength;
      return { bit, x, tip, top, wide: bit.holder / 2, text: bit.label, clear: roomLeft(job, tip, bit.stickOut) };
    };
    if (loaded && playAt !== undefined) {
      const now = momentAt(loaded.reel, playAt);
      const bit = loaded.bits[loaded.reel.bit[now.motion]!] ?? job.tools.roughing.bit;
      // Before the first words are read the bit hangs where everything turns clear.
      return stand(bit, Number.isNaN(now.x) ? job.field.from : now.x, Number.isNaN(now.r) ? job.safeRadius : now.r);
    }
    const { bit } = job.tools.finishing;
    const rest = job.field.from + 0.45 * (job.field.to - job.field.from);
    const x = Math.min(job.blank.to, Math.max(job.blank.from, pointerX ?? rest));
    const onForm = x >= job.field.from && x <= job.field.to;
    return stand(bit, x, onForm ? touchHeight(job.field, bit, x, turned) : outerRadius(job.blank));
  }, [job, loaded, pointerX, turned, playAt]);
}

/** What is played, while the playhead stands somewhere. */
function useCut(): Loaded | undefined {
  const serial = useShop((s) => s.serial);
  const shown = useShop((s) => s.playAt !== undefined);
  const loaded = useStore(session, (s) => s.loaded);
  return shown && loaded?.serial === serial ? loaded : undefined;
}

/** How the work is turned: by hand, or at the playhead as the program has it. Faster than an eye follows it stands still. */
function useTurn(loaded: Loaded | undefined): number {
  const turned = useShop((s) => s.turned);
  const playAt = useShop((s) => s.playAt);
  const playing = useShop((s) => s.playing);
  const speed = useStore(session, (s) => s.speed);
  const shown = useRef(0);
  if (!loaded || playAt === undefined) {
    shown.current = turned;
    return turned;
  }
  const now = readoutAt(loaded.reel, playAt);
  const perSecond = (now.turns / 60) * speed;
  const follows = !playing || (perSecond <= FASTEST_SHOWN && !stillWished());
  if (follows && Number.isFinite(now.theta)) shown.current = now.theta;
  return shown.current;
}

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

export default function Stage({ ruler, height }: { ruler: Ruler; height: number }) {
  const palette = usePalette();
  const job = useShop((s) => s.job ?? s.lastGood?.job);
  const field = useShop((s) => s.lastGood?.field);
  const cut = useCut();
  const turned = useTurn(cut);
  const orbit = useShop((s) => s.orbit);
  const hands = useHands(ruler);
  const bitAt = useBit(job, cut);
  const radius = job ? outerRadius(job.blank) : (field?.maxRadius ?? 20);
  const framing = frame(ruler, height, radius);
  const narrow = ruler.width < WORDS_FIT;
  return (
    <>
      {job && !orbit && narrow ? <WordsAbove job={job} bitAt={bitAt} /> : null}
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
            <Wood palette={palette} visible={!cut} />
            {cut ? <CutWood loaded={cut} palette={palette} /> : null}
            {job && !cut ? <Ghost blank={job.blank} palette={palette} dash={6 * framing.perPixel} /> : null}
            {job ? <Chuck job={job} palette={palette} /> : null}
          </group>
          {job ? <Tailstock job={job} palette={palette} /> : null}
          {bitAt ? (
            <group position={[bitAt.x, 0, bitAt.tip]}>
              <BitShown bit={bitAt.bit} palette={palette} />
            </group>
          ) : null}
        </Canvas>
        {job && !orbit ? (
          <Labels ruler={ruler} framing={framing} height={height} job={job} bitAt={bitAt} wordless={narrow} />
        ) : null}
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
