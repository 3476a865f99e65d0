/**
 * The page at the speed of the hand, in a real Chromium: what one step of a slider costs in computing, how soon the exact solid
 * follows, and how soon the proof of a part of 300 mm. Run alone, on an idle machine: `node bin/run.mjs tests/bench/page.bench.ts`.
 *
 * Computing is the time that the page's main thread spends in scripts, by the browser's own trace; pictures are left out (here
 * they are drawn without a graphics card), so nothing inside an animation frame counts.
 */
import { spawn } from 'node:child_process';
import { resolve } from 'node:path';
import { chromium, type Page } from 'playwright';
import { FLAGS, findChromium } from '../support/chromium.ts';
import { shortParts } from '../support/short-parts.ts';

const ROOT = resolve(import.meta.dirname, '../..');
const STEPS = 120;
const WARM = 20;
/** What the issue of the page asks for, ms and s. */
const BARS = { median: 16, p95: 33, solid: 700, proof: 6 };
/** Before the preview was mended (commit ff3eb3b, on the same class of machine: two shared cores), ms. */
const BASELINE = { median: 39, p95: 55 };

interface TraceEvent {
  name: string;
  ph: string;
  ts: number;
  dur?: number;
  tdur?: number;
  pid: number;
  tid: number;
}

/** Scripts and what they leave behind, as the browser's timeline calls them. */
const SCRIPT = new Set([
  'EventDispatch',
  'FunctionCall',
  'RunMicrotasks',
  'TimerFire',
  'FireIdleCallback',
  'EvaluateScript',
  'V8.GCScavenger',
  'MinorGC',
  'MajorGC',
]);
const PICTURE = 'FireAnimationFrame';
const MARK = 'slider step ';

/** Milliseconds of script between neighbouring marks, pictures left out. */
function scriptTimes(events: readonly TraceEvent[]): number[] {
  const marks = events.filter((e) => e.name.startsWith(MARK)).sort((a, b) => a.ts - b.ts);
  const main = marks[0];
  if (!main) throw new Error('the trace holds no step');
  const own = events
    .filter((e) => e.ph === 'X' && e.pid === main.pid && e.tid === main.tid)
    .filter((e) => SCRIPT.has(e.name) || e.name === PICTURE)
    .sort((a, b) => a.ts - b.ts || (b.dur ?? 0) - (a.dur ?? 0));
  const times = new Array<number>(marks.length - 1).fill(0);
  let outside = 0;
  let k = 0;
  for (const e of own) {
    // Only the outermost counts; what it calls is in it.
    if (e.ts < outside) continue;
    outside = e.ts + (e.dur ?? 0);
    if (e.name === PICTURE) continue;
    while (k + 1 < marks.length && marks[k + 1]!.ts <= e.ts) k++;
    if (e.ts >= marks[k]!.ts && k < times.length) times[k]! += (e.tdur ?? e.dur ?? 0) / 1000;
  }
  return times;
}

const at = (list: readonly number[], share: number): number =>
  [...list].sort((a, b) => a - b)[Math.floor(share * (list.length - 1))]!;

async function served(): Promise<{ address: string; end: () => void }> {
  const child = spawn(process.execPath, ['bin/start.mjs', '--no-open', '--port', '0'], { cwd: ROOT });
  const address = await new Promise<string>((done, fail) => {
    let said = '';
    child.stdout.setEncoding('utf8').on('data', (words: string) => {
      said += words;
      const found = said.match(/^Cavetto is at (http:\S+) /m);
      if (found) done(found[1]!);
    });
    child.once('close', () => fail(new Error(`the page was not served: ${said}`)));
  });
  return { address, end: () => child.kill() };
}

/** Seconds of the latest work of a worker, as the page measured it; waits until there are more than `before`. */
async function worked(page: Page, what: 'solid' | 'build', before: number): Promise<number> {
  await page.waitForFunction(
    ([name, n]) => performance.getEntriesByName(String(name)).length > Number(n),
    [what, before] as const,
    { timeout: 300_000 },
  );
  return page.evaluate((name) => performance.getEntriesByName(name).at(-1)!.duration / 1000, what);
}
const count = (page: Page, what: string) => page.evaluate((name) => performance.getEntriesByName(name).length, what);

/**
 * How busy the machine is: how much longer a fixed piece of arithmetic takes now than at its best. Read every number above 1
 * as a machine that others work on.
 */
function busy(): number {
  const times = Array.from({ length: 60 }, () => {
    const began = performance.now();
    let sum = 0;
    for (let k = 1; k < 400_000; k++) sum += Math.sqrt(k) / k;
    if (!(sum > 0)) throw new Error('no sum');
    return performance.now() - began;
  }).sort((a, b) => a - b);
  return times[30]! / times[0]!;
}

const { address, end } = await served();
const browser = await chromium.launch({ executablePath: findChromium(), args: [...FLAGS] });
try {
  const page = await browser.newPage({ viewport: { width: 1440, height: 900 } });
  await page.goto(address);
  // The sample is solid and proven before the first step, so that nothing else takes a core.
  await worked(page, 'solid', 0);
  console.log(
    `stair baluster, 700 mm: finished proof ${(await worked(page, 'build', 0)).toFixed(1)} s after it was asked`,
  );
  await page.getByRole('listbox', { name: 'Elements' }).getByRole('option').nth(4).click();
  const slider = page.getByRole('slider', { name: 'length', exact: true }).first();
  await slider.waitFor();
  const box = (await slider.boundingBox())!;
  const y = box.y + box.height / 2;
  const solids = await count(page, 'solid');
  await page.mouse.move(box.x + box.width * 0.3, y);
  await page.mouse.down();
  const cdp = await browser.newBrowserCDPSession();
  const events: TraceEvent[] = [];
  cdp.on('Tracing.dataCollected', ({ value }) => events.push(...(value as unknown as TraceEvent[])));
  const ended = new Promise<void>((done) => cdp.once('Tracing.tracingComplete', () => done()));
  await cdp.send('Tracing.start', {
    transferMode: 'ReportEvents',
    traceConfig: { includedCategories: ['devtools.timeline', 'blink.user_timing', 'v8', 'disabled-by-default-v8.gc'] },
  });
  for (let k = 0; k <= STEPS; k++) {
    await page.evaluate((name) => performance.mark(name), `${MARK}${k}`);
    // To and fro over the middle of the scale, a few pixels a step, as a hand does.
    const swing = 0.3 + 0.2 * Math.sin(k / 9);
    await page.mouse.move(box.x + box.width * swing, y);
    await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => setTimeout(done))));
  }
  await cdp.send('Tracing.end');
  await ended;
  await page.mouse.up();
  const steps = scriptTimes(events).slice(WARM);
  console.log(
    `slider step, stair baluster: median ${at(steps, 0.5).toFixed(1)} ms (bar ${BARS.median}, was ${BASELINE.median}), ` +
      `p95 ${at(steps, 0.95).toFixed(1)} ms (bar ${BARS.p95}, was ${BASELINE.p95}), fastest quarter ` +
      `${at(steps, 0.25).toFixed(1)} ms, ${steps.length} steps; machine ${busy().toFixed(2)} × as slow as at its best`,
  );
  const solid = await worked(page, 'solid', solids);
  console.log(`exact solid, stair baluster: ${(1000 * solid).toFixed(0)} ms (bar ${BARS.solid})`);

  for (const { name, text } of shortParts()) {
    const before = await count(page, 'solid');
    await page.getByRole('button', { name: 'Drawer' }).click();
    await page.getByLabel('Part document').setInputFiles({
      name: `${name}.part.json`,
      mimeType: 'application/json',
      buffer: Buffer.from(text),
    });
    await worked(page, 'solid', before);
    const builds = await count(page, 'build');
    // What was opened proves itself; a press only spares it the pause before.
    await page
      .getByRole('button', { name: 'Prove', exact: true })
      .click({ timeout: 2000 })
      .catch(() => undefined);
    const took = await worked(page, 'build', builds);
    const said = await page.locator('.pill').textContent();
    console.log(`${name}: finished proof after ${took.toFixed(1)} s (bar ${BARS.proof}); ${said?.trim()}`);
  }
} finally {
  await browser.close();
  end();
}
