/** Makes what is missing of a line in parallel, with progress and an estimate; a signal stops it and what is made stays. */
import { constants } from 'node:os';
import { clock } from '../cam/program-header.ts';
import { sweepUnfinished } from './batch-store.ts';
import type { Task } from './batch-thread.ts';
import { type Fault, runTasks } from './batch-threads.ts';
import type { ProgressShow } from './progress.ts';

/** What a run took. */
export interface Figures {
  readonly made: number;
  readonly workers: number;
  /** From the first to the last, s. */
  readonly wall_s: number;
  /** Processor time of the whole process meanwhile, s. */
  readonly busy_s: number;
}

export interface RunSetting {
  readonly out: string;
  readonly workers: number;
  readonly progress: ProgressShow;
  /** @returns whether it stands in the folder as it was made */
  onMade(index: number, seconds: number): boolean;
}

export interface Run {
  readonly figures: Figures;
  readonly faults: readonly Fault[];
  /** Code of the file system's fault that ended it: no other variant could have been written either. */
  readonly folderFault?: string;
  /** Exit code, if a signal ended it: 128 and the signal's number, as shells have it. */
  readonly signal?: number;
}

const SIGNALS = ['SIGINT', 'SIGTERM', 'SIGHUP'] as const;
/** Before so much is done an estimate says nothing. */
const TELLING = 0.02;
const MICROSECONDS = 1e6;

export async function makeAll(tasks: readonly Task[], setting: RunSetting): Promise<Run> {
  const workers = Math.max(1, Math.min(setting.workers, tasks.length));
  if (!tasks.length) return { figures: { made: 0, workers, wall_s: 0, busy_s: 0 }, faults: [] };
  const names = new Map(tasks.map((t) => [t.index, t.variant.name]));
  const shares = new Map<number, number>();
  const faults: Fault[] = [];
  let folderFault: string | undefined;
  let signal: number | undefined;
  let made = 0;
  let ended = 0;
  let what = 'starting';
  const began = performance.now();
  const cpu = process.cpuUsage();
  const show = () => {
    const share = [...shares.values()].reduce((a, b) => a + b, 0) / tasks.length;
    const elapsed = (performance.now() - began) / 1000;
    const left = share > TELLING && share < 1 ? `, about ${clock((elapsed * (1 - share)) / share)} left` : '';
    setting.progress.at(share, what, left);
  };
  show();
  const running = runTasks(tasks, workers, { out: setting.out }, (told) => {
    if (told.kind === 'share') shares.set(told.index, told.share);
    else {
      shares.set(told.index, 1);
      ended++;
      if (told.kind === 'made') {
        made++;
        if (!setting.onMade(told.index, told.seconds))
          faults.push({ index: told.index, message: 'what was written cannot be read back' });
      } else if (told.code) {
        folderFault = told.code;
        running.stop();
      } else faults.push(told);
      const how = told.kind === 'made' ? `made in ${clock(told.seconds)}` : 'a fault';
      what = `${ended} of ${tasks.length}: ${names.get(told.index)}, ${how}`;
    }
    show();
  });
  const onSignal = (name: NodeJS.Signals) => {
    signal = 128 + constants.signals[name];
    running.stop();
  };
  for (const s of SIGNALS) process.on(s, onSignal);
  try {
    await running.ended;
  } finally {
    for (const s of SIGNALS) process.off(s, onSignal);
    setting.progress.done();
  }
  // A thread that was stopped while it wrote leaves what it had begun.
  sweepUnfinished(setting.out, true);
  const { user, system } = process.cpuUsage(cpu);
  const figures = {
    made,
    workers,
    wall_s: (performance.now() - began) / 1000,
    busy_s: (user + system) / MICROSECONDS,
  };
  return {
    figures,
    faults,
    ...(folderFault === undefined ? {} : { folderFault }),
    ...(signal === undefined ? {} : { signal }),
  };
}
