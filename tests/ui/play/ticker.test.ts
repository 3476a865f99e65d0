/** The clock of the playing: it must ask for one frame at a time, whatever is done in its steps. */
import { expect, test } from 'vitest';
import { type Frames, LONGEST_STEP, ticker } from '../../../src/ui/play/ticker.ts';

/** Frames that come when the test says so. */
function hand() {
  let waiting: ((now: number) => void)[] = [];
  let now = 0;
  const frames: Frames = {
    request(run) {
      waiting.push(run);
      return () => {
        waiting = waiting.filter((w) => w !== run);
      };
    },
    now: () => now,
  };
  return {
    frames,
    waiting: () => waiting.length,
    frame(ms: number) {
      now += ms;
      for (const run of waiting.splice(0)) run(now);
    },
  };
}

test('a step whose followers ask the clock to run leaves one frame waited for, not twice as many each time', () => {
  const { frames, waiting, frame } = hand();
  let steps = 0;
  const clock = ticker(frames, () => {
    steps++;
    // As the store does it: every change tells all that follow it, and they see to it that the clock runs.
    clock.run();
    clock.run();
  });
  clock.run();
  for (let n = 1; n <= 15; n++) {
    frame(16);
    expect(waiting()).toBe(1);
    expect(steps).toBe(n);
  }
});

test('it tells the time that has passed, less of a frame that took long, and nothing once it is stopped', () => {
  const { frames, waiting, frame } = hand();
  const told: number[] = [];
  const clock = ticker(frames, (passed) => {
    told.push(passed);
    if (told.length === 3) clock.stop();
  });
  frame(500);
  clock.run();
  frame(20);
  frame(4000);
  frame(30);
  expect(waiting()).toBe(0);
  frame(10);
  expect(told).toEqual([0.02, LONGEST_STEP, 0.03]);
  // Time that went by while it stood does not count.
  clock.run();
  frame(40);
  expect(told.at(-1)).toBe(0.04);
  expect(waiting()).toBe(1);
});

test('a frame that began before it was asked for does not turn the clock back', () => {
  const { frames, frame } = hand();
  const told: number[] = [];
  const clock = ticker({ ...frames, now: () => 25 }, (passed) => told.push(passed));
  clock.run();
  frame(20);
  frame(20);
  expect(told).toEqual([0, 0.015]);
});
