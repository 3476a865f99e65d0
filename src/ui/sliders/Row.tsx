/** One row of the panel: its label with the meaning behind it, a switch where it may be left out, and what a hand holds. */
import { Components, createPlugin, useInputContext } from 'leva/plugin';
import { useState } from 'react';
import { useShop } from '../shop.ts';
import { ChoiceControl, FlagControl, NumberControl, TextControl } from './Controls.tsx';
import type { FieldRow } from './fields.ts';
import { Meaning } from './Meaning.tsx';
import { useRowValue } from './row-value.ts';

const CONTROLS = {
  number: NumberControl,
  choice: ChoiceControl,
  row: ChoiceControl,
  flag: FlagControl,
  text: TextControl,
};

const pathText = (path: FieldRow['path']) =>
  path.map((k, i) => (typeof k === 'number' ? `[${k}]` : i ? `.${k}` : k)).join('');

function FieldLine() {
  const { settings } = useInputContext<{ value: string; settings: { field: FieldRow } }>() as unknown as {
    settings: { field: FieldRow };
  };
  const row = settings.field;
  const held = useRowValue(row);
  const [told, setTold] = useState(false);
  const problem = useShop((s) => s.problems.find((p) => p.path === pathText(row.path)));
  const Control = CONTROLS[row.kind];
  const id = `set-${row.path.join('-')}`;
  const off = row.optional && !held.written;
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: hears a key of the controls inside it
    <div
      className="set"
      data-off={off || undefined}
      data-wrong={problem ? true : undefined}
      onKeyDown={(e) => {
        if (e.key !== '?' || (e.target as HTMLInputElement).type === 'text') return;
        e.stopPropagation();
        setTold(!told);
      }}
    >
      <Components.Row input>
        <div className="set-name">
          {row.optional ? (
            <input
              type="checkbox"
              aria-label={`${row.label}: set by hand`}
              title={off ? 'As is natural; tick to set it by hand' : 'Set by hand; untick for what is natural'}
              checked={held.written}
              onChange={(e) => held.toggle(e.target.checked)}
            />
          ) : null}
          <label htmlFor={id} onDoubleClick={() => setTold(!told)}>
            {row.label}
          </label>
          <button
            type="button"
            className="set-ask"
            aria-expanded={told}
            aria-label={`What ${row.label} means`}
            onClick={() => setTold(!told)}
          >
            ?
          </button>
        </div>
        {off && row.kind !== 'number' ? (
          <span className="set-natural">
            {row.kind === 'row' || row.kind === 'choice'
              ? (row.choices.find((c) => c.value === held.value)?.label ?? 'as is natural')
              : 'as is natural'}
          </span>
        ) : (
          <Control row={row} held={held} id={id} />
        )}
      </Components.Row>
      {problem ? (
        <p className="set-problem">
          {problem.message}
          {problem.allowed ? `: ${problem.allowed}` : ''}
        </p>
      ) : null}
      {told ? <Meaning row={row} /> : null}
    </div>
  );
}

/** Leva's input for a row; it carries the row, the value stays in the document. */
export const fieldInput = createPlugin<{ field: FieldRow }, string, { field: FieldRow }>({
  component: FieldLine,
  normalize: ({ field }) => ({ value: field.path.join('/'), settings: { field } }),
});
