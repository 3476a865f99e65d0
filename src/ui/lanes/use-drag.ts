/** A grip that follows the pointer: one gesture from press to release, which is one step of undo. */
import { type PointerEvent as ReactPointer, useRef } from 'react';
import { actions } from '../shop.ts';

export interface Travel {
  /** px since the press. */
  dx: number;
  dy: number;
  shift: boolean;
}

let gestures = 0;

/**
 * @param grip.begin called at the press; returns what follows the pointer, given the gesture's word
 * @param grip.least px before it counts as a drag @returns handlers for the element that is gripped
 */
export function useDrag(grip: {
  begin: (gesture: string) => (travel: Travel) => void;
  end?: (moved: boolean) => void;
  least?: number;
}) {
  const now = useRef<{ id: number; x: number; y: number; follow: (t: Travel) => void; moved: boolean } | undefined>(
    undefined,
  );
  const finish = (e: ReactPointer) => {
    const was = now.current;
    if (was?.id !== e.pointerId) return;
    now.current = undefined;
    actions.settle();
    grip.end?.(was.moved);
  };
  return {
    'data-grip': true,
    onPointerDown: (e: ReactPointer<Element>) => {
      if (e.button !== 0) return;
      e.currentTarget.setPointerCapture(e.pointerId);
      gestures += 1;
      now.current = {
        id: e.pointerId,
        x: e.clientX,
        y: e.clientY,
        follow: grip.begin(`drag ${gestures}`),
        moved: false,
      };
    },
    onPointerMove: (e: ReactPointer<Element>) => {
      const was = now.current;
      if (was?.id !== e.pointerId) return;
      const dx = e.clientX - was.x;
      const dy = e.clientY - was.y;
      if (!was.moved && Math.hypot(dx, dy) < (grip.least ?? 2)) return;
      was.moved = true;
      was.follow({ dx, dy, shift: e.shiftKey });
    },
    onPointerUp: finish,
    onPointerCancel: finish,
  };
}
