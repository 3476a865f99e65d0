import { expect, test } from 'vitest';
import { blankVolume } from '../../src/cam/blank.ts';
import { priceOf } from '../../src/cam/price.ts';
import { jobFor } from '../support/cam-job.ts';
import { cylinder } from '../support/fields.ts';

const job = jobFor(cylinder(200, 20));

test('stock is its volume in litres times the price, with the waste on top', () => {
  const price = priceOf(job, 0, { waste: 0.25 });
  expect(price.material).toBeCloseTo((blankVolume(job.blank) / 1e6) * job.material.price * 1.25, 2);
});

test('the bench is paid by the hour, a person by the hour too, setting up shared by the run', () => {
  const one = priceOf(job, 1800, { setup_min: 30, hand_min: 12, labourRate: 20, parts: 1 });
  expect(one.machine).toBe(job.bench.hourlyRate / 2);
  expect(one.labour).toBe(14);
  expect(priceOf(job, 1800, { setup_min: 30, hand_min: 12, labourRate: 20, parts: 10 }).labour).toBe(5);
});

test('the unit price is the sum, in an invented currency by default', () => {
  const p = priceOf(job, 1234);
  expect(p.unit).toBeCloseTo(p.material + p.machine + p.labour, 9);
  expect(p.currency).toBe('units');
});
