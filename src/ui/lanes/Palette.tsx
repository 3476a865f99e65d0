/** A tray of drawn kinds to pick one from. */
import { useEffect, useRef } from 'react';
import type { Drawing } from './moulding.ts';

export interface PaletteEntry {
  kind: string;
  label: string;
  meaning: string;
  drawing: Drawing;
}

export function Palette(props: {
  label: string;
  entries: PaletteEntry[];
  onPick: (kind: string) => void;
  onClose: () => void;
}) {
  const tray = useRef<HTMLDivElement>(null);
  useEffect(() => tray.current?.querySelector('button')?.focus(), []);
  return (
    // biome-ignore lint/a11y/useSemanticElements: a fieldset would bring a frame of its own
    <div
      className="palette"
      role="group"
      aria-label={props.label}
      ref={tray}
      onKeyDown={(e) => {
        const all = [...(tray.current?.querySelectorAll('button') ?? [])];
        const at = all.indexOf(document.activeElement as HTMLButtonElement);
        const by = { ArrowRight: 1, ArrowLeft: -1 }[e.key];
        if (e.key === 'Escape') props.onClose();
        else if (by !== undefined) all[(at + by + all.length) % all.length]?.focus();
        else return;
        e.preventDefault();
        e.stopPropagation();
      }}
    >
      {props.entries.map(({ kind, label, meaning, drawing }) => (
        <button type="button" key={kind} title={meaning} onClick={() => props.onPick(kind)}>
          <svg width={drawing.width} height={drawing.height} aria-hidden="true">
            <path d={drawing.path} />
          </svg>
          <span>{label}</span>
        </button>
      ))}
    </div>
  );
}
