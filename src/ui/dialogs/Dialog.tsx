/** A native dialog: the browser keeps the focus inside; where it was before, it is again afterwards. */
import { type ReactNode, useEffect, useRef } from 'react';
import { openDialog } from './which.ts';

export function Dialog({ title, wide, children }: { title: string; wide?: boolean; children: ReactNode }) {
  const box = useRef<HTMLDialogElement>(null);
  useEffect(() => {
    const on = box.current!;
    const before = document.activeElement;
    if (!on.open) on.showModal();
    return () => {
      on.close();
      // The browser gives it back only to a dialog that is still on the page when it is closed. A dialog that led to the next
      // one must not take the focus from it.
      if (before instanceof HTMLElement || before instanceof SVGElement)
        if (!document.querySelector('dialog[open]')) before.focus();
    };
  }, []);
  return (
    <dialog
      className="dialog"
      data-wide={wide || undefined}
      ref={box}
      aria-label={title}
      onCancel={() => openDialog(undefined)}
    >
      <header>
        <h2>{title}</h2>
        <button type="button" onClick={() => openDialog(undefined)}>
          Close
        </button>
      </header>
      {children}
    </dialog>
  );
}
