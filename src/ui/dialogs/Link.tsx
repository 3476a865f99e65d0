/** A link that carries the whole document; nothing is stored anywhere else. */
import { useState } from 'react';
import { actions, useShop } from '../shop.ts';
import { Dialog } from './Dialog.tsx';
import { LINK_WORD, packed } from './link-text.ts';

export function Link() {
  const raw = useShop((s) => s.raw);
  const [copied, setCopied] = useState(false);
  const link = `${location.origin}${location.pathname}${LINK_WORD}${packed(JSON.stringify(raw))}`;
  return (
    <Dialog title="A link that carries the part">
      <p>
        The whole document is inside the link, {link.length.toLocaleString('en')} letters of it; no server keeps it.
        Whoever opens it gets a copy of their own.
      </p>
      <textarea readOnly rows={4} value={link} aria-label="Link" onFocus={(e) => e.currentTarget.select()} />
      <p className="dialog-row">
        <button
          type="button"
          className="main-button"
          onClick={() =>
            navigator.clipboard.writeText(link).then(
              () => setCopied(true),
              () => actions.set({ notice: 'This browser does not let the page copy: take the link from the box' }),
            )
          }
        >
          {copied ? 'Copied' : 'Copy the link'}
        </button>
      </p>
    </Dialog>
  );
}
