/** What a written program asks of the axes, block by block: enough to know its time without its text. */
import type { StageName } from './path.ts';

export interface Motion {
  readonly count: number;
  /** 1 for a block at rapid speed, 0 for one with F. */
  readonly rapid: Uint8Array;
  /** Signed steps of a block as its rounded words make them: mm, mm, radians. */
  readonly dx: Float64Array;
  readonly dr: Float64Array;
  readonly dTheta: Float64Array;
  /** Seconds that the F word asks for; 0 for rapids. */
  readonly time: Float64Array;
  /** Index into `stages` of each block. */
  readonly stage: Uint8Array;
  /** Stages in the order of their first block. */
  readonly stages: readonly StageName[];
  /** Standing still: waiting for the spindle, s. */
  readonly dwell_s: number;
}

/** Collects the blocks of a motion. */
export class MotionBuilder {
  private rows: number[] = [];
  private stages: StageName[] = [];
  private dwell = 0;

  /** @param time s that F asks for, 0 for a rapid */
  add(stage: StageName, rapid: boolean, dx: number, dr: number, dTheta: number, time: number): void {
    let index = this.stages.indexOf(stage);
    if (index < 0) index = this.stages.push(stage) - 1;
    this.rows.push(rapid ? 1 : 0, dx, dr, dTheta, time, index);
  }

  wait(seconds: number): void {
    this.dwell += seconds;
  }

  motion(): Motion {
    const count = this.rows.length / 6;
    const column = (c: number) => Float64Array.from({ length: count }, (_, i) => this.rows[i * 6 + c]!);
    return {
      count,
      rapid: Uint8Array.from(column(0)),
      dx: column(1),
      dr: column(2),
      dTheta: column(3),
      time: column(4),
      stage: Uint8Array.from(column(5)),
      stages: this.stages,
      dwell_s: this.dwell,
    };
  }
}
