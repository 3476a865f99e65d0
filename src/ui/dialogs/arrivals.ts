/** Documents that arrive from outside: a link's hash, files dropped on the page. */
import { useEffect } from 'react';
import { actions } from '../shop.ts';

export function useArrivals(): void {
  useEffect(() => {
    const { hash } = location;
    if (hash.startsWith('#part='))
      void import('./link-text.ts').then(({ LINK_WORD, unpacked }) => {
        const text = unpacked(hash.slice(LINK_WORD.length));
        history.replaceState(null, '', location.pathname + location.search);
        if (text === undefined)
          actions.set({ notice: 'That link is cut short or damaged: the part in it cannot be read' });
        else actions.openText(text, 'The part in the link');
      });
    const over = (e: DragEvent) => {
      if (e.dataTransfer?.types.includes('Files')) e.preventDefault();
    };
    const drop = (e: DragEvent) => {
      const files = [...(e.dataTransfer?.files ?? [])];
      if (!files.length) return;
      e.preventDefault();
      void import('./open-files.ts').then(({ openFiles }) => openFiles(files));
    };
    window.addEventListener('dragover', over);
    window.addEventListener('drop', drop);
    return () => {
      window.removeEventListener('dragover', over);
      window.removeEventListener('drop', drop);
    };
  }, []);
}
