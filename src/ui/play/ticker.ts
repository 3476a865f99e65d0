/** A clock that is moved by frames: one frame is waited for at a time, however often it is asked to run. Pure. */

/** What gives frames. Times in ms of any one clock. */
export interface Frames {
  /** @param run called once, with the time now @returns what calls it off */
  request(run: (now: number) => void): () => void;
  now(): number;
}

export interface Ticker {
  /** Begins to tick; does nothing while it ticks. */
  run(): void;
  stop(): void;
}

/** A step that took longer, a hidden tab say, does not make what is moved leap, s. */
export const LONGEST_STEP = 0.25;

/**
 * @param frames asked for, one after another
 * @param step called at each with the time that has passed, s, 0.25 at the most; it may call `run` and `stop`
 */
export function ticker(frames: Frames, step: (passed: number) => void): Ticker {
  let off: (() => void) | undefined;
  let last = 0;
  const tick = (now: number) => {
    // Asked for before the step: what follows the step may call `run`, and must find it running. Else every frame asks for two.
    off = frames.request(tick);
    // A frame is told the time at which it began, which may lie before it was asked for.
    const passed = Math.max(0, now - last) / 1000;
    last = Math.max(last, now);
    step(Math.min(LONGEST_STEP, passed));
  };
  return {
    run() {
      if (off) return;
      last = frames.now();
      off = frames.request(tick);
    },
    stop() {
      off?.();
      off = undefined;
    },
  };
}
