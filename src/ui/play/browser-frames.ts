/** Frames of the browser for a ticker. */
import type { Frames } from './ticker.ts';

/** A frame that has not come by then is not waited for, ms. */
const PATIENT = 100;

/** The browser's frames; where the picture is slow to be drawn, a timer's. In a hidden tab none come. */
export const browserFrames: Frames = {
  request(run) {
    const frame = requestAnimationFrame((now) => {
      clearTimeout(timer);
      run(now);
    });
    const timer = setTimeout(() => {
      if (document.hidden) return;
      cancelAnimationFrame(frame);
      run(performance.now());
    }, PATIENT);
    return () => {
      clearTimeout(timer);
      cancelAnimationFrame(frame);
    };
  },
  now: () => performance.now(),
};
