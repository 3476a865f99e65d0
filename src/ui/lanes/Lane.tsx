/** One lane: its name at the left, its drawing on the shared ruler. */
import type { ReactNode } from 'react';

export function Lane(props: {
  name: string;
  note?: ReactNode;
  selected?: boolean;
  onName?: () => void;
  children: ReactNode;
}) {
  return (
    <section
      className="lane"
      data-lane={props.name}
      data-selected={props.selected || undefined}
      aria-label={props.name}
    >
      <div className="lane-name">
        <h2>
          {props.onName ? (
            <button type="button" className="bare" onClick={props.onName}>
              {props.name}
            </button>
          ) : (
            props.name
          )}
        </h2>
        {props.note ? <p>{props.note}</p> : null}
      </div>
      <div className="lane-body">{props.children}</div>
    </section>
  );
}
