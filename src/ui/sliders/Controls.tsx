/** What a hand holds: a slider with its number, a choice, a switch, a line of text. */
import { useRef, useState } from 'react';
import { snapped } from '../measure.ts';
import { actions, useShop } from '../shop.ts';
import { useTyped } from '../use-typed.ts';
import { OWN } from './document-edits.ts';
import { type FieldRow, handRange } from './fields.ts';
import type { RowValue } from './row-value.ts';
import { rowStep, rowText, typedRow, unitSign } from './units.ts';

interface ControlProps {
  row: FieldRow;
  held: RowValue;
  id: string;
}

export function NumberControl({ row, held, id }: ControlProps) {
  const shown = useShop((s) => s.shownUnits);
  const value = Number(held.value);
  const range = useRef(handRange(row, value));
  const moving = useRef(false);
  const step = rowStep(row, shown);
  // While the hand is on it the scale must not slip away under it.
  if (!moving.current && (value > range.current.to || value < range.current.from || value < range.current.to / 8))
    range.current = handRange(row, value);
  const { from, to } = range.current;
  // What was typed and not taken is told until the next number comes.
  const [refused, setRefused] = useState<{ words: string; at: number }>();
  const told = refused && Object.is(refused.at, value) ? refused.words : undefined;
  const typed = useTyped({
    shown: rowText(row, value, shown),
    take: (text) => {
      const taken = typedRow(row, text, shown);
      if ('refused' in taken) {
        setRefused({ words: taken.refused, at: value });
        return;
      }
      setRefused(undefined);
      held.write(taken.value);
      actions.settle();
    },
    leave: (input) => input.parentElement?.querySelector<HTMLInputElement>('input[type=range]')?.focus(),
  });
  const release = () => {
    moving.current = false;
    actions.settle();
  };
  return (
    <div className="hold-number">
      <input
        type="range"
        aria-label={row.label}
        aria-valuetext={`${rowText(row, value, shown)} ${unitSign(row, shown)}`}
        min={from}
        max={to}
        step="any"
        value={value}
        style={{ '--share': `${(100 * (Math.min(to, Math.max(from, value)) - from)) / (to - from || 1)}%` } as object}
        onPointerDown={() => {
          moving.current = true;
        }}
        onPointerUp={release}
        onPointerCancel={release}
        onChange={(e) =>
          held.write(snapped(Number(e.target.value), step, row.min, row.max), `slide ${row.path.join('/')}`)
        }
        onKeyDown={(e) => {
          const by = { ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1, PageUp: 10, PageDown: -10 }[e.key];
          if (by === undefined) return;
          e.preventDefault();
          held.write(snapped(value + by * step, step, row.min, row.max));
          actions.settle();
        }}
      />
      <input
        id={id}
        type="text"
        inputMode="decimal"
        aria-label={`${row.label}, number`}
        aria-invalid={told ? true : undefined}
        {...typed}
      />
      <span className="hold-unit">{unitSign(row, shown)}</span>
      {told ? (
        <p className="set-problem hold-told" role="alert">
          {told}; {rowText(row, value, shown)} stays
        </p>
      ) : null}
    </div>
  );
}

export function ChoiceControl({ row, held, id }: ControlProps) {
  return (
    <select
      id={id}
      className="hold-choice"
      value={String(held.value)}
      onChange={(e) => {
        held.write(e.target.value);
        actions.settle();
      }}
    >
      {row.choices.map((c) => (
        <option key={c.value} value={c.value}>
          {c.label}
        </option>
      ))}
      {row.kind === 'row' ? <option value={OWN}>own numbers …</option> : null}
    </select>
  );
}

export function FlagControl({ held, id }: ControlProps) {
  return (
    <label className="hold-flag">
      <input
        id={id}
        type="checkbox"
        checked={held.value === true}
        onChange={(e) => {
          held.write(e.target.checked);
          actions.settle();
        }}
      />
      <span aria-hidden="true">{held.value === true ? 'yes' : 'no'}</span>
    </label>
  );
}

export function TextControl({ row, held, id }: ControlProps) {
  const long = row.label === 'notes' || row.label === 'about';
  const shared = {
    id,
    className: 'hold-text',
    value: String(held.value ?? ''),
    onBlur: () => actions.settle(),
  };
  return long ? (
    <textarea rows={4} {...shared} onChange={(e) => held.write(e.target.value, `type ${row.path.join('/')}`)} />
  ) : (
    <input type="text" {...shared} onChange={(e) => held.write(e.target.value, `type ${row.path.join('/')}`)} />
  );
}
