/** One picture at a time: the next is not sent to the graphics card before the card has finished the last. Pure. */

/** What is asked of a card. */
export interface Card<Fence> {
  /** Set behind all that was sent so far. @returns undefined where the card gives none */
  fence(): Fence | undefined;
  /** Whether everything before the fence is drawn; never waits. */
  passed(fence: Fence): boolean;
}

export interface Pace {
  /** Whether the card has nothing left to draw. */
  free(): boolean;
  /** Told after every picture that is sent. */
  sent(): void;
}

/** @param card that draws; one that gives no fences counts as free */
export function paced<Fence>(card: Card<Fence>): Pace {
  let waits: Fence | undefined;
  return {
    free() {
      if (waits !== undefined && card.passed(waits)) waits = undefined;
      return waits === undefined;
    },
    sent() {
      waits = card.fence();
    },
  };
}

/** @param gl context that draws @returns its card; a context that is lost has nothing left to draw */
export const cardOf = (gl: WebGL2RenderingContext): Card<WebGLSync> => ({
  fence() {
    const fence = gl.fenceSync(gl.SYNC_GPU_COMMANDS_COMPLETE, 0);
    // Unless it is sent off, the card may never come to it.
    gl.flush();
    return fence ?? undefined;
  },
  passed(fence) {
    if (!gl.isContextLost() && gl.getSyncParameter(fence, gl.SYNC_STATUS) !== gl.SIGNALED) return false;
    gl.deleteSync(fence);
    return true;
  },
});
