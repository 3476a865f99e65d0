/** Progress on stderr: a bar on a terminal, one plain line for each new thing elsewhere, nothing when quiet. */
import { Presets, SingleBar } from 'cli-progress';
import { colour } from './colour.ts';

export interface ProgressShow {
  /** @param share of the whole, 0…1 @param what is being done @param left an estimate; alone it makes no new line */
  at(share: number, what: string, left?: string): void;
  done(): void;
}

/** @param quiet whether nothing is shown @param stream where to, stderr */
export function progressOn(stream: NodeJS.WriteStream, quiet: boolean): ProgressShow {
  if (quiet) return { at: () => undefined, done: () => undefined };
  if (!stream.isTTY) {
    let last = '';
    return {
      at: (_share, what, left = '') => {
        if (what !== last) stream.write(`${what}${left}\n`);
        last = what;
      },
      done: () => undefined,
    };
  }
  const bar = new SingleBar(
    {
      stream,
      format: `${colour('{bar}', 'verdigris', stream)} {percentage} % {what}{left}`,
      barsize: 32,
      hideCursor: true,
      clearOnComplete: true,
      stopOnComplete: false,
      etaBuffer: 1,
    },
    Presets.shades_classic,
  );
  bar.start(100, 0, { what: '', left: '' });
  return {
    at: (share, what, left = '') => bar.update(Math.round(100 * Math.min(1, Math.max(0, share))), { what, left }),
    done: () => bar.stop(),
  };
}
