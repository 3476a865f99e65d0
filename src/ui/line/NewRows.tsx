/** Where rows come from: the sliders of one row, steps of one slider, a pair of mirror images. */
import { useState } from 'react';
import { handStep, snapped } from '../measure.ts';
import { isNumber, type LineColumn, slideRange } from './columns.ts';
import { nameFor, pairRows, stepsOf, sweepable, sweepRows } from './rows.ts';
import { titleOf } from './session.ts';
import { lineActions, useLine } from './world.ts';

type Cells = Readonly<Record<string, string>>;

export function NewRows() {
  const raw = useLine((s) => s.raw);
  const columns = useLine((s) => s.columns);
  const rows = useLine((s) => s.rows);
  const [cells, setCells] = useState<Cells>({});
  const [typed, setTyped] = useState<string>();
  const [quantity, setQuantity] = useState('1');
  const taken = rows.map((r) => r.name);
  const part = titleOf(raw);
  const full = Object.fromEntries(columns.map((c) => [c.id, cells[c.id] ?? c.now]));
  const name = typed ?? nameFor(part, columns, full, taken);
  const row = { name, quantity, cells: full };
  const pair = pairRows(columns, row, taken);
  const add = (...args: Parameters<typeof lineActions.add>) => {
    lineActions.add(...args);
    setTyped(undefined);
  };
  return (
    <section className="line-new" aria-label="A new row">
      <div className="line-knobs">
        {columns.map((c) => (
          <KnobControl key={c.id} column={c} value={full[c.id]!} write={(v) => setCells({ ...cells, [c.id]: v })} />
        ))}
      </div>
      <div className="line-add">
        <label>
          name
          <input value={name} maxLength={80} onChange={(e) => setTyped(e.target.value || undefined)} />
        </label>
        <label className="line-short">
          pieces
          <input inputMode="numeric" value={quantity} onChange={(e) => setQuantity(e.target.value)} />
        </label>
        <button type="button" className="main-button" onClick={() => add([row])}>
          Add this row
        </button>
        {pair ? (
          <button type="button" onClick={() => add(pair)}>
            Add left and right
          </button>
        ) : null}
      </div>
      <Steps
        columns={sweepable(columns)}
        add={(column, values) => add(sweepRows(part, columns, row, column, values, taken))}
      />
    </section>
  );
}

function KnobControl({ column: c, value, write }: { column: LineColumn; value: string; write: (v: string) => void }) {
  const { from, to } = slideRange(c);
  const step = c.unit === 'in' ? handStep(c.takes.step * 25, 'inch') / 25 : c.takes.step;
  if (c.takes.kind === 'flag')
    return (
      <label className="line-knob">
        <span>{c.label}</span>
        <input
          type="checkbox"
          aria-label={c.label}
          checked={value === 'yes'}
          onChange={(e) => write(e.target.checked ? 'yes' : 'no')}
        />
      </label>
    );
  if (!isNumber(c))
    return (
      <label className="line-knob">
        <span>{c.label}</span>
        <select aria-label={c.label} value={value} onChange={(e) => write(e.target.value)}>
          {value === '' ? <option value="">as in the part</option> : null}
          {c.takes.choices.map((choice) => (
            <option key={choice}>{choice}</option>
          ))}
        </select>
      </label>
    );
  return (
    <label className="line-knob">
      <span>
        {c.label} <b>{value}</b> {c.unit}
      </span>
      <input
        type="range"
        aria-label={c.label}
        aria-valuetext={`${value} ${c.unit}`}
        min={from}
        max={to}
        step="any"
        value={Number(value) || 0}
        onChange={(e) => write(String(snapped(Number(e.target.value), step, c.takes.min, c.takes.max)))}
        onKeyDown={(e) => {
          const by = { ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1, PageUp: 10, PageDown: -10 }[e.key];
          if (by === undefined) return;
          e.preventDefault();
          write(String(snapped(Number(value) + by * step, step, c.takes.min, c.takes.max)));
        }}
      />
    </label>
  );
}

const MOST = 50;

function Steps({ columns, add }: { columns: readonly LineColumn[]; add: (c: LineColumn, values: string[]) => void }) {
  const [id, setId] = useState(columns[0]?.id ?? '');
  const [ends, setEnds] = useState<{ from?: string; to?: string }>({});
  const [count, setCount] = useState('4');
  const column = columns.find((c) => c.id === id) ?? columns[0];
  if (!column) return null;
  const range = slideRange(column);
  const from = ends.from ?? String(range.from);
  const to = ends.to ?? String(range.to);
  const steps = Number(count);
  const right = Number.isInteger(steps) && steps >= 2 && steps <= MOST && from.trim() !== '' && to.trim() !== '';
  const values =
    right && Number.isFinite(Number(from)) && Number.isFinite(Number(to))
      ? stepsOf(column, Number(from), Number(to), steps)
      : [];
  return (
    <fieldset className="line-steps">
      <legend>rows in steps</legend>
      <label>
        of
        <select
          aria-label="what changes"
          value={column.id}
          onChange={(e) => {
            setId(e.target.value);
            setEnds({});
          }}
        >
          {columns.map((c) => (
            <option key={c.id} value={c.id}>
              {c.label}
            </option>
          ))}
        </select>
      </label>
      <label className="line-short">
        from
        <input inputMode="decimal" value={from} onChange={(e) => setEnds({ ...ends, from: e.target.value })} />
      </label>
      <label className="line-short">
        to
        <input inputMode="decimal" value={to} onChange={(e) => setEnds({ ...ends, to: e.target.value })} />
      </label>
      <label className="line-short">
        rows
        <input inputMode="numeric" value={count} onChange={(e) => setCount(e.target.value)} />
      </label>
      <button type="button" disabled={!values.length} onClick={() => add(column, values)}>
        {values.length ? `Add ${values.length} rows` : 'Add the rows'}
      </button>
      <span className="line-soft">{values.length ? values.join(', ') : `2 to ${MOST} rows, two numbers`}</span>
    </fieldset>
  );
}
