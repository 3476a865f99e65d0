/** Where the bit stands over the part, and what is said of it. */
import type { Bit } from '../../../shared/catalog.ts';
import { outerRadius } from '../../cam/blank.ts';
import type { Job } from '../../cam/job.ts';
import { momentAt } from '../../cam/proof/reel.ts';
import type { Loaded } from '../play/session.ts';
import { useShop } from '../shop.ts';
import { roomLeft } from './Labels.tsx';
import { touchHeight } from './touch.ts';

export interface BitAt {
  bit: Bit;
  /** Place and height of its tip, mm. */
  x: number;
  tip: number;
  /** Height of the holder's upper end above the tip and half its width, mm. */
  top: number;
  wide: number;
  text: string;
  /** What the spindle can still rise, mm. */
  clear: number;
}

/** At the playhead, else on the surface under the pointer. */
function bitAt(
  job: Job,
  loaded: Loaded | undefined,
  pointerX: number | undefined,
  turned: number,
  playAt: number | undefined,
): BitAt {
  const stand = (bit: Bit, x: number, tip: number): BitAt => {
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
}

/** The last answer: the picture and the words about it ask the same. */
let known: { asked: readonly unknown[]; answer: BitAt } | undefined;

/** Where the bit stands and what is said of it. */
export function useBit(job: Job | undefined, loaded: Loaded | undefined): BitAt | undefined {
  const pointerX = useShop((s) => s.pointerX);
  const turned = useShop((s) => s.turned);
  const playAt = useShop((s) => s.playAt);
  if (!job) return undefined;
  const asked = [job, loaded, pointerX, turned, playAt];
  if (!known || !asked.every((value, k) => Object.is(value, known!.asked[k])))
    known = { asked, answer: bitAt(job, loaded, pointerX, turned, playAt) };
  return known.answer;
}
