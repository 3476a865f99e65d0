/** The rows: how each looks, what it has otherwise, what is wrong with it, how far it is, what it costs. */

import { smallOutline } from '../../batch/goods/drawing.ts';
import { reasonsOf } from '../../batch/goods/index-page.ts';
import { moneyText } from '../../cam/price/exact.ts';
import { timeWords } from '../lanes/words.ts';
import { isNumber, type LineColumn } from './columns.ts';
import type { LineRow, RowCheck } from './rows.ts';
import { type RowState, rowCost, rowState } from './session.ts';
import { lineActions, useLine } from './world.ts';

export function RowTable() {
  const columns = useLine((s) => s.columns);
  const rows = useLine((s) => s.rows);
  const checks = useLine((s) => s.checks);
  if (!rows.length)
    return (
      <p className="line-soft">No rows yet. Every row becomes a folder of its own: solid, programs, sheet, report.</p>
    );
  return (
    <div className="line-wide">
      <table className="line-rows">
        <thead>
          <tr>
            <th scope="col">row</th>
            <th scope="col">
              <span className="unseen">how it looks</span>
            </th>
            <th scope="col">name</th>
            <th scope="col">pieces</th>
            {columns.map((c) => (
              <th scope="col" key={c.id}>
                {c.label}
                {c.unit ? `, ${c.unit}` : ''}
              </th>
            ))}
            <th scope="col">proof</th>
            <th scope="col">takes</th>
            <th scope="col">price each</th>
            <th scope="col">
              <span className="unseen">out</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {rows.map((row, i) => (
            <Row key={row.id} row={row} number={i + 1} columns={columns} check={checks[i]!} />
          ))}
        </tbody>
      </table>
    </div>
  );
}

interface RowProps {
  row: LineRow;
  number: number;
  columns: readonly LineColumn[];
  check: RowCheck;
}

function Row({ row, number, columns, check }: RowProps) {
  const works = useLine((s) => s.works);
  const state = rowState({ works }, check);
  const made =
    state.status === 'made' && check.variant
      ? { ...state.value, made: { ...state.value.made, variant: check.variant } }
      : undefined;
  const cost = made && rowCost(made);
  const wrongAt = (column: number) => check.problems.some((p) => p.path.includes(`, column ${column} (`)) || undefined;
  const write = (id: string, value: string) => lineActions.edit(row.id, { cells: { ...row.cells, [id]: value } });
  const problems = `row-${row.id}-problems`;
  const span = columns.length + 8;
  return (
    <>
      <tr data-state={state.status} data-verdict={made?.made.verdict}>
        <th scope="row">{number}</th>
        <td>
          <Look check={check} picture={made?.picture} name={row.name} />
        </td>
        <td>
          <input
            aria-label={`name, row ${number}`}
            aria-invalid={wrongAt(1)}
            aria-describedby={check.problems.length ? problems : undefined}
            value={row.name}
            maxLength={80}
            onChange={(e) => lineActions.edit(row.id, { name: e.target.value })}
          />
        </td>
        <td>
          <input
            className="line-number"
            inputMode="numeric"
            aria-label={`pieces, row ${number}`}
            aria-invalid={wrongAt(2)}
            value={row.quantity}
            onChange={(e) => lineActions.edit(row.id, { quantity: e.target.value })}
          />
        </td>
        {columns.map((c, k) => (
          <td key={c.id}>
            <Cell
              column={c}
              number={number}
              wrong={wrongAt(k + 3)}
              value={row.cells[c.id] ?? ''}
              write={(v) => write(c.id, v)}
            />
          </td>
        ))}
        <td className="line-proof">
          <Progress state={state} wrong={!check.variant} />
        </td>
        <td className="line-number">{made?.made.report ? timeWords(made.made.report.time.total_s) : ''}</td>
        <td className="line-number">
          {cost ? `${moneyText(cost.unit)} ${made.made.variant.part.price.currency}` : ''}
        </td>
        <td>
          <button type="button" aria-label={`Take out row ${number}`} onClick={() => lineActions.remove(row.id)}>
            Out
          </button>
        </td>
      </tr>
      {check.problems.length ? (
        <tr className="line-problems" id={problems}>
          <td colSpan={span}>
            {check.problems.map((p) => (
              <p key={`${p.path} ${p.message}`}>
                {p.path}: {p.message}
                {p.allowed ? ` (${p.allowed})` : ''}
              </p>
            ))}
          </td>
        </tr>
      ) : null}
      {made && made.made.verdict !== 'proven' ? (
        <tr className="line-problems">
          <td colSpan={span}>
            {reasonsOf(made.made).map((reason) => (
              <p key={reason}>{reason}</p>
            ))}
          </td>
        </tr>
      ) : null}
    </>
  );
}

function Look({ check, picture, name }: { check: RowCheck; picture: string | undefined; name: string }) {
  if (picture) return <img className="line-look" src={picture} alt={name} />;
  const outline = smallOutline(check.silhouette);
  return (
    <svg
      className="line-look"
      viewBox="0 0 68 18"
      role="img"
      aria-label={outline ? `Silhouette of ${name}` : 'No form'}
    >
      {outline ? <polygon points={outline} /> : null}
    </svg>
  );
}

interface CellProps {
  column: LineColumn;
  number: number;
  wrong: true | undefined;
  value: string;
  write: (value: string) => void;
}

function Cell({ column: c, number, wrong, value, write }: CellProps) {
  const label = `${c.label}, row ${number}`;
  if (isNumber(c))
    return (
      <input
        className="line-number"
        inputMode="decimal"
        aria-label={label}
        aria-invalid={wrong}
        value={value}
        placeholder={c.now}
        onChange={(e) => write(e.target.value)}
      />
    );
  const choices = c.takes.kind === 'flag' ? ['yes', 'no'] : c.takes.choices;
  return (
    <select aria-label={label} aria-invalid={wrong} value={value} onChange={(e) => write(e.target.value)}>
      {choices.includes(value) ? null : <option value={value}>{value || 'as in the part'}</option>}
      {choices.map((choice) => (
        <option key={choice}>{choice}</option>
      ))}
    </select>
  );
}

function Progress({ state, wrong }: { state: RowState; wrong: boolean }) {
  if (wrong) return <span className="line-bad">not right yet</span>;
  if (state.status === 'waiting') return <span className="line-soft">waits</span>;
  if (state.status === 'failed') return <span className="line-bad">fault: {state.message}</span>;
  if (state.status === 'made')
    return state.value.made.verdict === 'proven' ? (
      <span className="line-good">Proven</span>
    ) : (
      <span className="line-bad">Refused</span>
    );
  return (
    <>
      <progress max={1} value={state.share} aria-label={state.what} />
      <span className="line-soft">{state.what}</span>
    </>
  );
}
