/** Pictures wait for the card, the clock does not. */
import { expect, test } from 'vitest';
import { ticker } from '../../../src/ui/play/ticker.ts';
import { paced } from '../../../src/ui/stage/pace.ts';

/** A card that finishes a picture after so many looks. */
function card(looks: number) {
  const left: number[] = [];
  return {
    fence: () => left.push(looks) - 1,
    passed: (n: number) => --left[n]! < 0,
    fences: () => left.length,
  };
}

/** Plays frames as the stage does. @returns pictures sent, and the playhead at each */
function play(looks: number, frames: number) {
  const slow = card(looks);
  const pace = paced(slow);
  const sent: number[] = [];
  let now = 0;
  let next: ((t: number) => void) | undefined;
  let at = 0;
  const clock = ticker(
    {
      request: (run) => {
        next = run;
        return () => {
          next = undefined;
        };
      },
      now: () => now,
    },
    (passed) => {
      at += passed;
      if (!pace.free()) return;
      sent.push(at);
      pace.sent();
    },
  );
  clock.run();
  for (let n = 0; n < frames; n++) {
    now += 20;
    next!(now);
  }
  return { sent, at, fences: slow.fences(), stop: clock.stop, waits: () => next !== undefined };
}

test('a card that never finishes gets one picture, and the clock goes on and stops when it is told', () => {
  const { sent, at, fences, stop, waits } = play(Infinity, 500);
  expect(sent.length).toBe(1);
  expect(fences).toBe(1);
  expect(at).toBeCloseTo(10, 9);
  stop();
  expect(waits()).toBe(false);
});

test('a slow card gets every so many frames the newest', () => {
  const { sent, at } = play(9, 500);
  expect(sent.length).toBe(50);
  expect(sent.slice(0, 3).map((t) => Math.round(t * 1000))).toEqual([20, 220, 420]);
  expect(at).toBeCloseTo(10, 9);
});

test('a quick card gets every frame, and so does one that gives no fences', () => {
  expect(play(0, 100).sent.length).toBe(100);
  const none = paced({ fence: () => undefined, passed: () => false });
  none.sent();
  expect(none.free()).toBe(true);
});
