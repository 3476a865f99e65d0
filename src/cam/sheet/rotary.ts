/** What the rotary's output must be set to, what to put back, and how a rotary is plugged into a linear output. */
import { wordsPerTurn } from '../control.ts';
import type { Job } from '../job.ts';
import { rotarySetup, stepsAfterTest } from '../rotary-setup.ts';
import { list, plain, safe, table } from './html.ts';
import { crossLetter } from './zeros.ts';

/** A number with its thousands parted. */
const big = (v: number, decimals: number): string => plain(v, decimals).replace(/\B(?<!\.\d*)(?=(\d{3})+(?!\d))/g, ',');
/** Degrees that a turn may fall short to, as an example. */
const SHORT = 355;
const GAP = '<span class="gap"></span>';

/** @param range of the rotary word over all programs, program units */
export function rotarySection(job: Job, range: readonly [number, number]): string {
  const { control, bench } = job;
  const s = rotarySetup(bench, control);
  const { fullSteps, microsteps, reduction } = bench.rotary;
  const ro = control.rotary.letter;
  const acceleration = plain(bench.rotary.acceleration_deg, 0);
  const inch = control.units === 'inch' && s.stepsPerInch !== undefined;
  const rows: [string, string, string][] = [
    [
      `Steps a ${s.unit === '°' ? 'degree' : 'mm'}`,
      big(s.stepsPerUnit, 5),
      `${fullSteps} steps × ${microsteps} micro × ${plain(reduction, 3)} ÷ ${plain(s.unitsPerTurn, 3)} ${s.unit} a turn${inch ? `; ${big(s.stepsPerInch!, 4)} an inch` : ''}`,
    ],
    [
      'Fastest rate',
      `${big(s.rate, 1)} ${s.unit}/min`,
      `${plain(bench.rotary.maxSpeed, 1)} turns a minute: ${big(s.stepsPerSecond, 0)} steps a second`,
    ],
    [
      'Acceleration',
      `${big(s.acceleration, 2)} ${s.unit}/s²`,
      control.rotary.linear
        ? `${acceleration}°/s² of the chuck × ${plain(s.unitsPerTurn, 3)} ÷ 360`
        : 'what the bench’s row gives its rotary',
    ],
    ['Soft limits', 'off', `turns add up: ${ro} runs from ${big(range[0], 1)} to ${big(range[1], 1)}`],
  ];
  const settings = table(
    [`Output ${ro}`, 'set', 'because', 'was', ...(control.rotary.linear ? ['back'] : [])],
    rows.map(([name, set, why]) => [name, `<b>${set}</b>`, why, GAP, ...(control.rotary.linear ? ['☐'] : [])]),
    'settings',
  );
  return control.rotary.linear ? list(swap(job).map(safe), 'ol') + settings : `${settings}<p>${turnTold(job)}</p>`;
}

/** What the turn test shows, with an example of the sum for a turn that falls short. */
function turnTold(job: Job): string {
  const present = rotarySetup(job.bench, job.control).stepsPerUnit;
  const turn = `${plain(wordsPerTurn(job.control), 4)} in ${job.control.rotary.letter}`;
  return `Turn test: ${turn} is one turn. If it goes ${SHORT}° only: steps × 360 ÷ ${SHORT} = ${big(stepsAfterTest(present, SHORT), 5)}.`;
}

/** A rotary on a linear axis's output, in the order of doing. */
function swap(job: Job): string[] {
  const { control } = job;
  const ro = control.rotary.letter;
  const cross = crossLetter(control);
  const where = ro === cross ? 'it: without its motor it slides' : `${ro}, which loses its motor`;
  return [
    `All motors plugged: head over the rotary centre (see Zeros), then clamp ${where}.`,
    `Power off until the drives are dark: a plug pulled under power kills a drive. Pull the ${ro} motor’s plug, both if ${ro} has two. The rotary’s plug goes into the ${ro} output; a second output stays empty.`,
    `Power on. Write down the settings, then set them as below. Never home ${ro}: it would turn on and on.`,
    turnTold(job),
    'Afterwards: power off, plugs back, old settings back, soft limits on, clamp off, home.',
  ];
}
