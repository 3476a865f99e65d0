/** Hears the keys of the page, wherever the focus is, unless something there wants them itself. */
import { useEffect } from 'react';
import { outerRadius } from '../../cam/blank.ts';
import { type DialogName, openDialog } from '../dialogs/which.ts';
import { byKey } from '../lanes/view.ts';
import { playable, toggle } from '../play/session.ts';
import { actions, shop } from '../shop.ts';
import { nextTheme } from '../theme/use-theme.ts';
import { type KeyName, keyOf } from './list.ts';

const RULER: Partial<Record<KeyName, string>> = {
  closer: '+',
  farther: '-',
  whole: '0',
  left: 'ArrowLeft',
  right: 'ArrowRight',
};

function act(name: KeyName): void {
  const w = shop.getState();
  const ruler = RULER[name];
  if (ruler) {
    const job = w.job ?? w.lastGood?.job;
    const blank = job?.blank ?? { from: 0, to: w.lastGood?.field.length ?? 100 };
    const next = byKey(w.range, ruler, blank, job ? outerRadius(job.blank) : 0);
    if (next) w.show(next);
    return;
  }
  if (name === 'undo') w.undo();
  else if (name === 'redo') w.redo();
  else if (name === 'prove') w.prove();
  else if (name === 'stop') w.stop();
  else if (name === 'play') toggle();
  else if (name === 'units') w.set({ shownUnits: w.shownUnits === 'mm' ? 'inch' : 'mm' });
  else if (name === 'light') w.set({ theme: nextTheme(w.theme) });
  else openDialog(name as DialogName);
}

export function useKeys(): void {
  useEffect(() => {
    const hear = (e: KeyboardEvent) => {
      const name = keyOf(e);
      if (!name || e.defaultPrevented) return;
      const at = e.target as HTMLElement;
      const undoes = name === 'undo' || name === 'redo';
      const types = at.closest('input:not([type=range], [type=checkbox]), textarea, select') !== null;
      if (document.querySelector('dialog[open]') || (types && !(undoes && at.classList.contains('part-name')))) return;
      const owns = at.closest('input, button, summary, [role=slider], a[href]') !== null;
      if (owns && (name === 'play' || name === 'left' || name === 'right')) return;
      // Held down it would start and stop; where there is nothing to play it scrolls the page as ever.
      if (name === 'play' && (e.repeat || !playable(shop.getState()))) return;
      if (name === 'stop' && shop.getState().build.status !== 'working') return;
      e.preventDefault();
      if (undoes) actions.settle();
      act(name);
    };
    window.addEventListener('keydown', hear);
    return () => window.removeEventListener('keydown', hear);
  }, []);
}
