/** The heading of a part of the panel: its name with the meaning behind it, and what adds it to the document or takes it out. */
import { useState } from 'react';
import { actions, shop } from '../shop.ts';
import type { PanelPart } from './about-selection.ts';
import { addEntry, leaveOut, nameRow, putIn } from './document-edits.ts';
import type { FieldGroup } from './fields.ts';
import { PartMeaning } from './Meaning.tsx';

/** One step of undo, whatever it changes. */
function once(recipe: Parameters<typeof actions.change>[0]): void {
  actions.settle();
  actions.change(recipe);
  actions.settle();
}

/** The question mark behind a name: tells its meaning, and takes it back. @param open whether it is always to be seen */
function Ask({ about, told, open, onAsk }: { about: string; told: boolean; open?: boolean; onAsk: () => void }) {
  return (
    <button
      type="button"
      className={open ? 'set-ask set-ask-open' : 'set-ask'}
      aria-expanded={told}
      aria-label={`What ${about} means`}
      onClick={onAsk}
    >
      ?
    </button>
  );
}

/** The title of what is selected, with the meaning of its kind behind it. */
export function PartTitle({ part }: { part: PanelPart }) {
  const [told, setTold] = useState(false);
  const { title, meaning } = part;
  return (
    <>
      <div className="set-name">
        <h2 onDoubleClick={() => setTold(!told && meaning !== undefined)}>{title}</h2>
        {meaning ? <Ask about={title} told={told} open onAsk={() => setTold(!told)} /> : null}
      </div>
      {told && meaning ? <PartMeaning words={meaning.words} drawing={meaning.draw()} name={title} /> : null}
    </>
  );
}

export function GroupHead({ group }: { group: FieldGroup }) {
  const [told, setTold] = useState(false);
  const { title, description, path, optional, catalogRow, entry } = group;
  const id = `part-${path.join('-')}`;
  return (
    <div className="set" data-off={(optional && !optional.present) || undefined}>
      <div className="set-name">
        {optional ? (
          <input
            id={id}
            type="checkbox"
            checked={optional.present}
            title={optional.present ? 'Untick to take it out of the part' : 'Tick to add it to the part'}
            onChange={(e) => once(e.target.checked ? putIn(shop.getState(), path) : leaveOut(shop.getState(), path))}
          />
        ) : null}
        <h3>
          <label htmlFor={optional ? id : undefined} onDoubleClick={() => setTold(!told)}>
            {title}
          </label>
        </h3>
        {catalogRow ? (
          <button type="button" className="set-more" onClick={() => once(nameRow(shop.getState(), path, catalogRow))}>
            From the catalog
          </button>
        ) : null}
        {entry ? (
          <button
            type="button"
            className="set-more"
            aria-label={`Take out ${title}`}
            disabled={!entry.removable}
            onClick={() => once(leaveOut(shop.getState(), path))}
          >
            Take out
          </button>
        ) : null}
        {description ? <Ask about={title} told={told} onAsk={() => setTold(!told)} /> : null}
      </div>
      {told ? <PartMeaning words={description} name={title} /> : null}
    </div>
  );
}

/** Under a list: one more entry, or one less. */
export function ListTools({ group }: { group: FieldGroup }) {
  const { length, least, most, hidden } = group.list!;
  return (
    <div className="list-tools">
      {hidden ? <span>{length} of them: too many for sliders</span> : null}
      {length ? null : <span>none</span>}
      <button type="button" disabled={length >= most} onClick={() => once(addEntry(shop.getState(), group.path))}>
        One more
      </button>
      <button
        type="button"
        disabled={length <= least}
        onClick={() => once(leaveOut(shop.getState(), [...group.path, length - 1]))}
      >
        Take the last out
      </button>
    </div>
  );
}
