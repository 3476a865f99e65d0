/** A native dialog: the browser keeps the focus inside and gives it back. */
import { type ReactNode, useEffect, useRef } from 'react';
import { openDialog } from './which.ts';

export function Dialog({ title, wide, children }: { title: string; wide?: boolean; children: ReactNode }) {
  const box = useRef<HTMLDialogElement>(null);
  useEffect(() => {
    const on = box.current!;
    if (!on.open) on.showModal();
    return () => on.close();
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
