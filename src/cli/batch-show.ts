/** What a person reads after a line was made. */
import { reasonsOf } from '../batch/goods/index-page.ts';
import type { MadeVariant, Variant } from '../batch/line.ts';
import { clock } from '../cam/program-header.ts';
import type { Figures } from './batch-run.ts';
import type { Kept } from './batch-store.ts';
import { colour } from './colour.ts';

/** A line for each reason: which row of the table, which variant, why. */
export function faultLines(
  unproven: readonly MadeVariant[],
  faults: readonly { variant: Variant; message: string }[],
  stream: NodeJS.WriteStream,
): string[] {
  const row = (word: string, v: Variant, why: string) =>
    `${colour(word, 'rust', stream)}: line ${v.row}, ${v.name}: ${why}`;
  return [
    ...unproven.flatMap((m) => reasonsOf(m).map((why) => row('refused', m.variant, why))),
    ...faults.map((f) => row('internal fault', f.variant, f.message)),
  ];
}

/** A line for each variant: quantity, verdict, time at the bench, time to make it. */
export function variantLines(all: readonly MadeVariant[]): string[] {
  const wide = Math.max(0, ...all.map((m) => m.variant.name.length));
  return all.map(({ variant, verdict, report, seconds }) => {
    const cutting = report ? `${clock(report.time.total_s)} at the bench` : '';
    const made = seconds ? `made in ${seconds.toFixed(1)} s` : 'unchanged';
    return `${variant.name.padEnd(wide)} ${String(variant.quantity).padStart(5)}  ${verdict.padEnd(8)} ${made.padEnd(16)} ${cutting}`.trimEnd();
  });
}

/** How many, and how long it took. @param count of variants that were wanted */
export function timeLines(count: number, done: readonly Kept[], { made, workers, wall_s, busy_s }: Figures): string[] {
  const proven = done.filter((k) => k.made.verdict === 'proven').length;
  const rows: [string, string][] = [
    ['line', `${count} variants: ${proven} proven, ${done.length - proven} refused, ${count - done.length} not made`],
    ['made', `${made} now, ${done.filter((k) => k.made.seconds === 0).length} taken over unchanged`],
  ];
  if (made) {
    const each = `${(wall_s / made).toFixed(1)} s a variant`;
    rows.push(['time', `${clock(wall_s)} with ${workers} ${workers === 1 ? 'worker' : 'workers'}, ${each}`]);
    // On a machine that has other work too the workers get less than a processor each, and this tells it.
    if (workers > 1)
      rows.push([
        'speed-up',
        `${(busy_s / wall_s).toFixed(2)} over one worker with a processor to itself: ${clock(busy_s)} of processor time in ${clock(wall_s)}`,
      ]);
  }
  return rows.map(([name, value]) => `${name.padEnd(9)} ${value}`);
}
