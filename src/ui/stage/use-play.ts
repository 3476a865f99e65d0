/** What the stage shows of the cutting: the job, what is played, how the work is turned at that moment. */
import { useRef } from 'react';
import { useStore } from 'zustand';
import type { Job } from '../../cam/job.ts';
import { readoutAt } from '../play/readout.ts';
import { type Loaded, session } from '../play/session.ts';
import { useShop } from '../shop.ts';

/** Turns in a second beyond which the eye sees nothing but flicker. */
const FASTEST_SHOWN = 0.6;
const stillWished = () => matchMedia('(prefers-reduced-motion: reduce)').matches;

/** The job as it is, or as it last was whole. */
export const useJob = (): Job | undefined => useShop((s) => s.job ?? s.lastGood?.job);

/** What is played, while the playhead stands somewhere. */
export function useCut(): Loaded | undefined {
  const serial = useShop((s) => s.serial);
  const shown = useShop((s) => s.playAt !== undefined);
  const loaded = useStore(session, (s) => s.loaded);
  return shown && loaded?.serial === serial ? loaded : undefined;
}

/** How the work is turned: by hand, or at the playhead as the program has it. Faster than an eye follows it stands still. */
export function useTurn(loaded: Loaded | undefined): number {
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
