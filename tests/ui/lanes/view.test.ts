import { describe, expect, test } from 'vitest';
import { rowsOf } from '../../../src/ui/lanes/packing.ts';
import { markOf, paint, spotAt } from '../../../src/ui/lanes/proof-picture.ts';
import { byKey, byPinch, byWheel, whole } from '../../../src/ui/lanes/view.ts';
import { lengthNumber, snapped, typedLength } from '../../../src/ui/measure.ts';
import { toMm } from '../../../src/ui/ruler.ts';

const ruler = { from: 100, to: 300, width: 400 };

describe('the ruler under the hand', () => {
  test('what lies under the pointer stays there while the wheel turns', () => {
    const next = { ...byWheel(ruler, -120, 90), width: 400 };
    expect(toMm(next, 90)).toBeCloseTo(toMm(ruler, 90), 9);
    expect(next.to - next.from).toBeLessThan(200);
  });
  test('two fingers keep what lay under each', () => {
    const next = { ...byPinch(ruler, [100, 200], [60, 260]), width: 400 };
    expect(toMm(next, 60)).toBeCloseTo(toMm(ruler, 100), 9);
    expect(toMm(next, 260)).toBeCloseTo(toMm(ruler, 200), 9);
  });
  test('keys zoom about the middle, move along, and bring the whole blank back', () => {
    const blank = { from: -30, to: 720 };
    expect(byKey(ruler, '+', blank, 32)).toEqual({ from: 120, to: 280 });
    expect(byKey(ruler, 'ArrowRight', blank, 32)).toEqual({ from: 120, to: 320 });
    expect(byKey(ruler, '0', blank, 32)).toEqual(whole(blank, 32));
    expect(byKey(ruler, 'x', blank, 32)).toBeUndefined();
  });
  test('the whole of a long blank has a little air, of a short thick one enough to show its height', () => {
    expect(whole({ from: -30, to: 720 }, 32)).toEqual({ from: -60, to: 750 });
    const knob = whole({ from: -40, to: 60 }, 32);
    expect(knob.to - knob.from).toBeCloseTo(256, 9);
    expect((knob.from + knob.to) / 2).toBeCloseTo(10, 9);
  });
});

test('bars that overlap stand in rows under one another, and a row is filled again once it is free', () => {
  const bars = [
    { from: 0, to: 10 },
    { from: 5, to: 20 },
    { from: 12, to: 30 },
    { from: 11, to: 30 },
  ];
  expect(rowsOf(bars, 2)).toEqual([0, 1, 0, 2]);
});

describe('lengths as they are typed', () => {
  test.each([
    ['12.5', 'mm', 12.5],
    ['12,5', 'mm', 12.5],
    ['1/2', 'inch', 12.7],
    ['1 3/8', 'inch', 34.925],
    ['1 in', 'mm', 25.4],
    ['1"', 'mm', 25.4],
    ['30 mm', 'inch', 30],
    ['-4', 'mm', -4],
  ] as const)('%s read in %s is %d mm', (text, unit, mm) => {
    expect(typedLength(text, unit)).toBeCloseTo(mm, 9);
  });
  test.each(['', 'abc', '1/0', '3 4', '12 cm'])('%j is no length', (text) => {
    expect(typedLength(text, 'mm')).toBeUndefined();
  });
  test('snap to the step and stay inside the limits', () => {
    expect(snapped(10.3, 0.5)).toBe(10.5);
    expect(snapped(-1, 0.5, 0)).toBe(0);
    expect(lengthNumber(25.4, 'inch')).toBe('1');
  });
});

describe('the proof unrolled', () => {
  const left = {
    xs: Float64Array.of(0, 10, 20),
    thetas: 4,
    rest: Float32Array.of(0, 0, 0, 0, 0, -0.1, 0.2, 0.2, 0, 0, 0, 0),
    unreachable: Float32Array.of(0, 0, 0, 0, 0, 0, 0, 0.2, 0, 0, 0, 0),
  };
  test('tells what is under the pointer', () => {
    expect(spotAt(left, 9, 0.3, 0.03)).toMatchObject({ x: 10, mark: 'gouged' });
    expect(spotAt(left, 9, 0.6, 0.03)).toMatchObject({ mark: 'left' });
    expect(spotAt(left, 9, 0.9, 0.03)).toMatchObject({ mark: 'unreachable' });
    expect(spotAt(left, 19, 0.9, 0.03)).toMatchObject({ mark: 'clean' });
    expect(spotAt(left, -1, 0.5, 0.03)).toBeUndefined();
  });
  test('a gouge shows however far the ruler is zoomed out', () => {
    const out = new Uint8ClampedArray(1 * 1 * 4);
    const inks = { clean: [0, 9, 0], left: [0, 0, 9], gouged: [9, 0, 0], unreachable: [9, 9, 0] } as const;
    paint(left, out, 1, 1, { from: -5, to: 25 }, 0.03, inks);
    expect([...out.slice(0, 3)]).toEqual([9, 0, 0]);
  });
  test('a gouge at the very tolerance is none', () => {
    expect(markOf(-0.03, 0, 0.03)).toBe('clean');
    expect(markOf(-0.031, 0, 0.03)).toBe('gouged');
  });
});
