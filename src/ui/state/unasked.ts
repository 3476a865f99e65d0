/** What is opened proves itself: the verdict is there without a press, as long as nobody has changed the part. */
import { fitOf } from './steps.ts';
import type { Services, WorkshopStore } from './workshop.ts';

/** The page is drawn and at rest before the planner takes its core, ms. */
const AT_REST = 900;
/** How often the answer whether it fits is looked for, ms. */
const AGAIN = 300;

/**
 * Proves a document once: the one on the bench, and each that is opened after it. An edit is never proven unasked, nor is what
 * is known not to fit.
 * @param store the page's @param later the clock
 */
export function proveUnasked(store: WorkshopStore, later: Services['later']): void {
  const soon = (serial: number, pause: number) =>
    later(pause, () => {
      const now = store.getState();
      if (now.serial !== serial || now.build.status !== 'none' || !now.job) return;
      const fits = now.fit.status === 'ready' || now.fit.status === 'failed';
      if (!fits) soon(serial, AGAIN);
      else if (!fitOf(now)?.problems.some((p) => p.severity === 'refuse')) now.prove();
    });
  soon(store.getState().serial, AT_REST);
  store.subscribe((now, before) => {
    // A part that only gets a place of its own, because another tab changed it too, is not opened by that.
    if (now.id !== before.id && now.serial !== before.serial) soon(now.serial, AT_REST);
  });
}
