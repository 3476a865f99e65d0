/** Hands on the stage: sideways moves along the ruler, up and down turns the work; arrow keys do the same. */
import { type KeyboardEvent, type PointerEvent, useRef } from 'react';
import { panned, type Ruler, zoomed } from '../ruler.ts';
import { actions, shop } from '../shop.ts';

/** Turn of the work for a drag of one pixel, radians: a hand's width is a quarter. */
const PER_PIXEL = Math.PI / 2 / 160;
const KEY_TURN = Math.PI / 24;
const KEY_PAN = 0.08;
/** Way before a press counts as a drag, px. */
const SLACK = 3;

export function useHands(ruler: Ruler) {
  const drag = useRef<{ id: number; x: number; y: number; way: 'none' | 'along' | 'around' } | undefined>(undefined);
  const fingers = useRef(new Set<number>());
  return {
    onPointerDown: (e: PointerEvent) => {
      if (e.pointerType === 'touch') fingers.current.add(e.pointerId);
      if (shop.getState().orbit || fingers.current.size > 1 || e.button !== 0) {
        drag.current = undefined;
        return;
      }
      if ((e.target as Element).closest('button')) return;
      drag.current = { id: e.pointerId, x: e.clientX, y: e.clientY, way: 'none' };
    },
    onPointerMove: (e: PointerEvent) => {
      const d = drag.current;
      if (!d || d.id !== e.pointerId || !(e.buttons & 1)) return;
      const dx = e.clientX - d.x;
      const dy = e.clientY - d.y;
      if (d.way === 'none') {
        if (Math.hypot(dx, dy) < SLACK) return;
        d.way = Math.abs(dx) >= Math.abs(dy) ? 'along' : 'around';
        (e.currentTarget as Element).setPointerCapture(e.pointerId);
      }
      d.x = e.clientX;
      d.y = e.clientY;
      const { range, turned } = shop.getState();
      if (d.way === 'along') actions.show(panned(range, (-dx / ruler.width) * (range.to - range.from)));
      else actions.set({ turned: turned - dy * PER_PIXEL });
    },
    onPointerUp: (e: PointerEvent) => {
      fingers.current.delete(e.pointerId);
      if (drag.current?.id === e.pointerId) drag.current = undefined;
    },
    onPointerCancel: (e: PointerEvent) => {
      fingers.current.delete(e.pointerId);
      drag.current = undefined;
    },
    onKeyDown: (e: KeyboardEvent) => {
      if ((e.target as Element).closest('button') && e.key !== 'Escape') return;
      const { range, turned, orbit } = shop.getState();
      const span = range.to - range.from;
      if (e.key === 'Escape' && orbit) actions.set({ orbit: false });
      else if (e.key === 'ArrowLeft') actions.show(panned(range, -KEY_PAN * span));
      else if (e.key === 'ArrowRight') actions.show(panned(range, KEY_PAN * span));
      else if (e.key === 'ArrowUp') actions.set({ turned: turned + KEY_TURN });
      else if (e.key === 'ArrowDown') actions.set({ turned: turned - KEY_TURN });
      else if (e.key === '+' || e.key === '=') actions.show(zoomed(range, (range.from + range.to) / 2, 1.25));
      else if (e.key === '-') actions.show(zoomed(range, (range.from + range.to) / 2, 0.8));
      else return;
      e.preventDefault();
      e.stopPropagation();
    },
  };
}
