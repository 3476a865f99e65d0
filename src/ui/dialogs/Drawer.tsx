/** Documents of this browser, templates to start from, files to open. */
import { useMemo, useRef } from 'react';
import { actions, useShop } from '../shop.ts';
import type { Raw } from '../state/contract.ts';
import { templateTexts } from '../state/templates.ts';
import { blankDocument } from '../state/workshop.ts';
import { Dialog } from './Dialog.tsx';
import { openFiles } from './open-files.ts';
import { thumbnail } from './thumbnail.ts';
import { openDialog } from './which.ts';

const WIDTH = 190;
const HEIGHT = 64;
/** Key of the start that is no template. */
const PLAIN = 'plain';

export function Drawer() {
  const stored = useShop((s) => s.drawer);
  const current = useShop((s) => s.id);
  const file = useRef<HTMLInputElement>(null);
  const templates = useMemo(
    () =>
      [
        { key: PLAIN, raw: blankDocument(), name: 'A plain stick', start: () => actions.openPlain() },
        ...[...templateTexts].map(([key, text]) => ({
          key,
          raw: JSON.parse(text) as Raw,
          name: undefined,
          start: () => actions.openTemplate(key),
        })),
      ].flatMap(({ key, raw, name, start }) => {
        const drawn = thumbnail(raw, WIDTH, HEIGHT);
        return drawn ? [{ key, drawn, name: name ?? drawn.name, start }] : [];
      }),
    [],
  );
  return (
    <Dialog title="Drawer" wide>
      <h3>Start from</h3>
      <ul className="template-list">
        {templates.map(({ key, drawn, name, start }) => (
          <li key={key}>
            <button
              type="button"
              onClick={() => {
                start();
                openDialog(undefined);
              }}
            >
              <svg width={WIDTH} height={HEIGHT} aria-hidden="true">
                <path className="form-wood" d={drawn.outline} />
                <path className="form-carved" d={drawn.carved} />
                <path className="form-line" d={drawn.outline} />
              </svg>
              <strong>{name}</strong>
              <span>{drawn.facts}</span>
            </button>
          </li>
        ))}
      </ul>
      <h3>Kept in this browser</h3>
      <ul className="stored-list">
        {stored.map((d) => (
          <li key={d.id} aria-current={d.id === current || undefined}>
            <button
              type="button"
              className="stored-name"
              onClick={() => {
                void actions.openStored(d.id);
                openDialog(undefined);
              }}
            >
              {d.name}
            </button>
            <time dateTime={new Date(d.changed).toISOString()}>{new Date(d.changed).toLocaleString()}</time>
            {d.id === current ? (
              <span>on the bench</span>
            ) : (
              <button type="button" aria-label={`Throw ${d.name} away`} onClick={() => void actions.removeStored(d.id)}>
                Throw away
              </button>
            )}
          </li>
        ))}
      </ul>
      <p className="dialog-row">
        <button type="button" className="main-button" onClick={() => file.current?.click()}>
          Open a file
        </button>
        <span>or drop one anywhere on the page</span>
        <input
          ref={file}
          type="file"
          accept=".json,application/json"
          className="unseen"
          aria-label="Part document"
          tabIndex={-1}
          onChange={(e) => {
            void openFiles([...(e.target.files ?? [])]);
            openDialog(undefined);
          }}
        />
      </p>
    </Dialog>
  );
}
