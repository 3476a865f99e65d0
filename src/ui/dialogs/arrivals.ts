/** Documents that arrive from outside: a link's hash, files dropped on the page. */
import { useEffect } from 'react';
import { actions } from '../shop.ts';

export function useArrivals(): void {
  useEffect(() => {
    const link = () => {
      const { hash } = location;
      if (!hash.startsWith('#part=')) return;
      void import('./link-text.ts').then(({ LINK_WORD, unpacked }) => {
        const text = unpacked(hash.slice(LINK_WORD.length));
        history.replaceState(null, '', location.pathname + location.search);
        if (text === undefined)
          actions.set({ notice: 'That link is cut short or damaged: the part in it cannot be read' });
        else actions.openText(text, 'The part in the link');
      });
    };
    link();
    // A link put into the address bar of the open page changes the hash and loads nothing.
    window.addEventListener('hashchange', link);
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
      window.removeEventListener('hashchange', link);
      window.removeEventListener('dragover', over);
      window.removeEventListener('drop', drop);
    };
  }, []);
}
