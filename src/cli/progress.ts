/** Progress on stderr: a bar on a terminal, one plain line for each new thing elsewhere, nothing when quiet. */
import { Presets, SingleBar } from 'cli-progress';
import { colour } from './colour.ts';

export interface ProgressShow {
  /** @param share of the whole, 0…1 @param what is being done */
  at(share: number, what: string): void;
  done(): void;
}

/** @param quiet whether nothing is shown @param stream where to, stderr */
export function progressOn(stream: NodeJS.WriteStream, quiet: boolean): ProgressShow {
  if (quiet) return { at: () => undefined, done: () => undefined };
  if (!stream.isTTY) {
    let last = '';
    return {
      at: (_share, what) => {
        if (what !== last) stream.write(`${what}\n`);
        last = what;
      },
      done: () => undefined,
    };
  }
  const bar = new SingleBar(
    {
      stream,
      format: `${colour('{bar}', 'verdigris', stream)} {percentage} % {what}`,
      barsize: 32,
      hideCursor: true,
      clearOnComplete: true,
      stopOnComplete: false,
      etaBuffer: 1,
    },
    Presets.shades_classic,
  );
  bar.start(100, 0, { what: '' });
  return {
    at: (share, what) => bar.update(Math.round(100 * Math.min(1, Math.max(0, share))), { what }),
    done: () => bar.stop(),
  };
}
