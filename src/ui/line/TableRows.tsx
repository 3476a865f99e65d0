/** Rows from a table of the command line: pasted, dropped on the dialog or opened as a file. */
import { useCallback, useEffect, useRef, useState } from 'react';
import type { Problem } from '../../../shared/problems.ts';
import type { Decimal } from '../../batch/line-numbers.ts';
import type { TableOptions } from '../../batch/line-table.ts';
import type { Separator } from '../../batch/line-text.ts';
import { rowsIn } from './table.ts';
import { line, lineActions } from './world.ts';

/** Nothing that a hand wrote is larger, bytes. */
const LARGEST = 5_000_000;

export function TableRows() {
  const [text, setText] = useState('');
  const [options, setOptions] = useState<TableOptions>({});
  const [problems, setProblems] = useState<readonly Problem[]>([]);
  const [said, setSaid] = useState('');
  const section = useRef<HTMLElement>(null);
  const chooser = useRef<HTMLInputElement>(null);
  const take = useCallback((table: string, told: TableOptions) => {
    const { raw, columns, rows, brought } = line.getState();
    const read = rowsIn(raw, { columns, rows, brought }, table, told);
    setText('problems' in read ? table : '');
    setProblems('problems' in read ? read.problems : []);
    setSaid(
      'problems' in read
        ? ''
        : [`${read.rows.length === 1 ? '1 row was' : `${read.rows.length} rows were`} added.`, ...read.said].join(' '),
    );
    if (!('problems' in read)) lineActions.bring(read.rows, read.columns);
  }, []);
  const open = useCallback(
    async (file: File | undefined, told: TableOptions) => {
      if (!file) return;
      if (file.size <= LARGEST) take(await file.text(), told);
      else setSaid(`${file.name} is too large to be a table of variants`);
    },
    [take],
  );
  useEffect(() => {
    // A file that falls anywhere on the dialog is a table; elsewhere on the page it is a part document.
    const dialog = section.current!.closest('dialog')!;
    const drop = (e: DragEvent) => {
      const [file] = e.dataTransfer?.files ?? [];
      if (!file) return;
      e.preventDefault();
      e.stopPropagation();
      void open(file, options);
    };
    dialog.addEventListener('drop', drop);
    return () => dialog.removeEventListener('drop', drop);
  }, [open, options]);
  return (
    <section className="line-new" aria-label="Rows from a table" ref={section}>
      <details>
        <summary>rows from a table</summary>
        <label className="line-table">
          a table of variants, pasted here or dropped as a CSV file
          <textarea
            rows={3}
            spellCheck={false}
            placeholder={'name,quantity,length\nShort one,40,440'}
            value={text}
            onChange={(e) => setText(e.target.value)}
          />
        </label>
        <div className="line-add">
          <button type="button" className="main-button" disabled={!text.trim()} onClick={() => take(text, options)}>
            Add its rows
          </button>
          <button type="button" onClick={() => chooser.current?.click()}>
            Open a table
          </button>
          <label>
            separator
            <select
              value={options.separator ?? ''}
              onChange={(e) => setOptions({ ...options, separator: (e.target.value || undefined) as Separator })}
            >
              <option value="">recognised</option>
              <option>comma</option>
              <option>semicolon</option>
              <option>tab</option>
            </select>
          </label>
          <label>
            decimal
            <select
              value={options.decimal ?? ''}
              onChange={(e) => setOptions({ ...options, decimal: (e.target.value || undefined) as Decimal })}
            >
              <option value="">recognised</option>
              <option>point</option>
              <option>comma</option>
            </select>
          </label>
          <input
            ref={chooser}
            type="file"
            accept=".csv,text/csv,text/tab-separated-values"
            className="unseen"
            aria-label="Table file"
            tabIndex={-1}
            onChange={(e) => {
              void open(e.target.files?.[0], options);
              e.target.value = '';
            }}
          />
        </div>
      </details>
      {problems.length ? (
        <ul className="line-stopped" role="alert">
          {problems.map((p) => (
            <li key={`${p.path} ${p.message}`}>
              {p.path}: {p.message}
              {p.allowed ? ` (${p.allowed})` : ''}
            </li>
          ))}
        </ul>
      ) : null}
      {said ? (
        <p className="line-soft" role="status">
          {said}
        </p>
      ) : null}
    </section>
  );
}
