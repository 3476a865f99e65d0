/** The cutting being played: what the worker told of it, the wood at the playhead, and the clock that moves it. */
import { type Remote, wrap } from 'comlink';
import { createStore } from 'zustand/vanilla';
import type { Bit } from '../../../shared/catalog.ts';
import type { Reel } from '../../cam/proof/reel.ts';
import { actions, shop } from '../shop.ts';
import type { Workshop } from '../state/contract.ts';
import type { PlayApi } from '../workers/play.worker.ts';
import { toolsOf } from './bits.ts';
import { browserFrames } from './browser-frames.ts';
import { wallClock } from './clock.ts';
import { ticker } from './ticker.ts';

/** What is played, once it is read. */
export interface Loaded {
  readonly serial: number;
  readonly reel: Reel;
  /** Rows of the wood along x, mm, and columns about it. */
  readonly xs: Float64Array;
  readonly columns: number;
  /** Outermost wood now, mm; altered in place, `revision` of the session tells when. */
  readonly radii: Float32Array;
  readonly bits: readonly Bit[];
  /** Of the reel. */
  readonly total_s: number;
  /** From a time of the reel to what is told of it, s. */
  readonly clock: (t: number) => number;
}

interface Session {
  loaded: Loaded | undefined;
  loading: boolean;
  fault: string;
  /** Seconds of the job in one second of the clock. */
  speed: number;
  /** Counts changes of `radii`. */
  revision: number;
}

/** Watching a whole job takes about this long unless another speed is chosen, s. */
const COMFORTABLE = 60;
export const SPEEDS = [1, 5, 20, 60, 200, 600] as const;

export const session = createStore<Session>()(() => ({
  loaded: undefined,
  loading: false,
  fault: '',
  speed: 60,
  revision: 0,
}));

let worker: Worker | undefined;
let api: Remote<PlayApi> | undefined;
let asked: number | undefined;
let answering = false;

/** The build that may be played: that of the document as it stands. */
export const playable = (s: Workshop) =>
  s.build.status === 'ready' && s.build.serial === s.serial && s.build.value.programs.length
    ? s.build.value
    : undefined;

/** Reads the programs of the present build, unless that is done already. */
export async function load(): Promise<void> {
  const state = shop.getState();
  const build = playable(state);
  const { loaded, loading } = session.getState();
  if (!build || !state.job || loading || loaded?.serial === state.serial) return;
  const { serial, job } = state;
  session.setState({ loading: true, fault: '', loaded: undefined });
  try {
    worker ??= new Worker(new URL('../workers/play.worker.ts', import.meta.url), { type: 'module' });
    api ??= wrap<PlayApi>(worker);
    const told = (await api.load(state.raw, build.programs)) as Omit<Loaded, 'serial' | 'bits' | 'total_s' | 'clock'>;
    const total_s = told.reel.start[told.reel.count] ?? 0;
    const bits = build.programs.flatMap((p) => toolsOf(job, p.bit).map((t) => t.bit));
    const speed = SPEEDS.find((s) => total_s / s <= COMFORTABLE) ?? SPEEDS.at(-1)!;
    const clock = wallClock(told.reel.stretches, build.stages);
    session.setState({ loaded: { ...told, serial, bits, total_s, clock }, speed, loading: false });
    follow();
  } catch (fault) {
    session.setState({ loading: false, fault: String(fault) });
  }
  if (playable(shop.getState()) && shop.getState().serial !== serial) await load();
}

/** Asks for the wood at the playhead; one question at a time, the newest wins. */
function follow(): void {
  const { loaded } = session.getState();
  const { playAt, serial } = shop.getState();
  if (!api || !loaded || loaded.serial !== serial || playAt === undefined || answering || asked === playAt) return;
  asked = playAt;
  answering = true;
  void api.at(playAt).then(({ from, to, radii }) => {
    answering = false;
    if (to > from) {
      loaded.radii.set(radii, from * loaded.columns);
      session.setState({ revision: session.getState().revision + 1 });
    }
    follow();
  });
}

const clock = ticker(browserFrames, (passed) => {
  const { playing, playAt } = shop.getState();
  const { loaded, speed } = session.getState();
  if (!playing || !loaded) {
    clock.stop();
    return;
  }
  const next = (playAt ?? 0) + passed * speed;
  if (next < loaded.total_s) actions.set({ playAt: next });
  else actions.set({ playAt: loaded.total_s, playing: false });
});

/** Follows the store: a fresh build is read at once, so that nothing waits when it is to be played. @returns what ends it */
export function attend(): () => void {
  const see = () => {
    const s = shop.getState();
    if (playable(s)) void load();
    else if (s.playAt !== undefined) actions.set({ playAt: undefined, playing: false });
    if (s.playing && session.getState().loaded) clock.run();
    follow();
  };
  see();
  const stops = [shop.subscribe(see), session.subscribe((now, before) => now.loaded !== before.loaded && see())];
  return () => {
    for (const stop of stops) stop();
    clock.stop();
  };
}

/** Play and pause; at the end it begins again. */
export function toggle(): void {
  const s = shop.getState();
  const total = session.getState().loaded?.total_s;
  if (!playable(s)) return;
  const atEnd = total !== undefined && s.playAt !== undefined && s.playAt >= total - 1e-6;
  actions.set({ playing: !s.playing, playAt: atEnd && !s.playing ? 0 : (s.playAt ?? 0) });
}
