/** A row of a line that is made. */
import type { MadeVariant } from '../../batch/line.ts';
import type { PieceFacts } from '../../cam/price/cost.ts';

/** A variant as a worker gives it. */
export interface MadeRow {
  readonly made: MadeVariant;
  /** As `make` writes them. */
  readonly files: ReadonlyMap<string, Uint8Array | string>;
  /** What its price hangs on, and how it looks; of a proven variant. */
  readonly piece?: PieceFacts;
  readonly picture?: string;
}
