/** The shared ruler of a measured column, and the hands on it: wheel, pinch and drag. */
import { type RefObject, useEffect, useMemo, useRef, useState } from 'react';
import { panned, type Ruler, toMm } from '../ruler.ts';
import { actions, shop, useShop } from '../shop.ts';
import { byPinch, byWheel } from './view.ts';

/** @returns a ref for the column and the ruler that spans it */
export function useRuler(): [RefObject<HTMLDivElement | null>, Ruler] {
  const column = useRef<HTMLDivElement>(null);
  const [width, setWidth] = useState(800);
  const range = useShop((s) => s.range);
  useEffect(() => {
    const watch = new ResizeObserver(([entry]) => setWidth(Math.max(100, Math.round(entry!.contentRect.width))));
    watch.observe(column.current!);
    return () => watch.disconnect();
  }, []);
  const ruler = useMemo(() => ({ ...range, width }), [range, width]);
  return [column, ruler];
}

/**
 * Hands on the ruler. Wheel over the stage or the scale zooms, with ctrl (or a pinch of the pad) anywhere; sideways it moves along.
 * @param area what listens @param column whose left edge is the ruler's
 */
export function useRulerHands(area: RefObject<HTMLElement | null>, column: RefObject<HTMLElement | null>): void {
  useEffect(() => {
    const on = area.current!;
    const ruler = (): Ruler => ({ ...shop.getState().range, width: column.current!.clientWidth });
    const pixel = (e: { clientX: number }) => e.clientX - column.current!.getBoundingClientRect().left;
    const fingers = new Map<number, number>();
    let drag: { id: number; at: number; moved: boolean } | undefined;

    const wheel = (e: WheelEvent) => {
      const target = e.target as Element;
      const sideways = Math.abs(e.deltaX) > Math.abs(e.deltaY) || e.shiftKey;
      const zooms = e.ctrlKey || (target.closest('.zooms') !== null && !shop.getState().orbit);
      if (!sideways && !zooms) return;
      e.preventDefault();
      const r = ruler();
      if (sideways) actions.show(panned(r, ((e.deltaX || e.deltaY) / r.width) * (r.to - r.from)));
      else actions.show(byWheel(r, e.ctrlKey ? e.deltaY * 4 : e.deltaY, pixel(e)));
    };
    const down = (e: PointerEvent) => {
      if (e.pointerType === 'touch') fingers.set(e.pointerId, pixel(e));
      const target = e.target as Element;
      if (fingers.size === 2) drag = undefined;
      else if (e.button === 0 && !target.closest('[data-grip], .stage, button, input, select, .lane-name'))
        drag = { id: e.pointerId, at: pixel(e), moved: false };
    };
    const move = (e: PointerEvent) => {
      const p = pixel(e);
      const r = ruler();
      if (fingers.has(e.pointerId) && fingers.size === 2) {
        const before = [...fingers.values()] as [number, number];
        fingers.set(e.pointerId, p);
        actions.show(byPinch(r, before, [...fingers.values()] as [number, number]));
        return;
      }
      if (fingers.has(e.pointerId)) fingers.set(e.pointerId, p);
      if (drag?.id === e.pointerId && e.buttons & 1) {
        if (Math.abs(p - drag.at) > 3 || drag.moved) {
          actions.show(panned(r, ((drag.at - p) / r.width) * (r.to - r.from)));
          drag = { ...drag, at: p, moved: true };
        }
        return;
      }
      actions.set({ pointerX: p >= 0 && p <= r.width ? toMm(r, p) : undefined });
    };
    const up = (e: PointerEvent) => {
      fingers.delete(e.pointerId);
      if (drag?.id === e.pointerId) drag = undefined;
    };
    const leave = () => actions.set({ pointerX: undefined });
    on.addEventListener('wheel', wheel, { passive: false });
    on.addEventListener('pointerdown', down);
    on.addEventListener('pointermove', move);
    window.addEventListener('pointerup', up);
    window.addEventListener('pointercancel', up);
    on.addEventListener('pointerleave', leave);
    return () => {
      on.removeEventListener('wheel', wheel);
      on.removeEventListener('pointerdown', down);
      on.removeEventListener('pointermove', move);
      window.removeEventListener('pointerup', up);
      window.removeEventListener('pointercancel', up);
      on.removeEventListener('pointerleave', leave);
    };
  }, [area, column]);
}
