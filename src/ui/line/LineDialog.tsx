/** A line of the part on the bench: rows from its knobs, made and proven two at a time, taken as one folder. */
import './line.css';
import { useEffect, useState } from 'react';
import { slugOf } from '../../build/slug.ts';
import { moneyText } from '../../cam/price/exact.ts';
import { Dialog } from '../dialogs/Dialog.tsx';
import { save } from '../dialogs/save.ts';
import { timeWords } from '../lanes/words.ts';
import { useShop } from '../shop.ts';
import { NewRows } from './NewRows.tsx';
import { RowTable } from './RowTable.tsx';
import { lineTotals, titleOf } from './session.ts';
import { line, lineActions, useLine } from './world.ts';

export function LineDialog() {
  const raw = useShop((s) => s.raw);
  const opened = useLine((s) => s.raw) === raw;
  const problems = useLine((s) => s.problems);
  useEffect(() => lineActions.open(raw), [raw]);
  return (
    <Dialog title="A line of these" wide>
      <div className="line-view">
        {!opened ? null : problems.length ? (
          <p className="line-stopped">
            The part itself is not right yet: {problems[0]!.path ? `${problems[0]!.path}: ` : ''}
            {problems[0]!.message}.
          </p>
        ) : (
          <>
            <NewRows key={titleOf(raw)} />
            <Run />
            <RowTable />
          </>
        )}
      </div>
    </Dialog>
  );
}

/** Start and stop, how far it is, what it has come to, and the way out. */
function Run() {
  const state = useLine((s) => s);
  const [packing, setPacking] = useState(false);
  const [fault, setFault] = useState('');
  const { rows, running } = state;
  const t = lineTotals(state);
  const done = t.proven + t.refused;
  const left = t.rows - t.wrong - done;
  if (!rows.length) return null;
  const take = async () => {
    setPacking(true);
    setFault('');
    try {
      const zip = await lineActions.pack();
      save(`${slugOf(titleOf(line.getState().raw))}-line.zip`, zip);
    } catch (f) {
      setFault(f instanceof Error ? f.message : String(f));
    } finally {
      setPacking(false);
    }
  };
  const said = [
    `${t.proven} of ${t.rows} proven`,
    ...(t.refused ? [`${t.refused} refused`] : []),
    ...(t.wrong ? [`${t.wrong} with something wrong`] : []),
    ...(t.pieces ? [`${t.pieces} pieces`, `${timeWords(t.bench_s)} of the bench`] : []),
    ...t.price.map((p) => `${moneyText(p.sum)} ${p.currency} before taxes`),
  ];
  return (
    <section className="line-run" aria-label="Making the line">
      {running ? (
        <button type="button" onClick={() => lineActions.stop()}>
          Stop
        </button>
      ) : (
        <button type="button" className="main-button" disabled={!left} onClick={() => lineActions.start()}>
          {done && left ? `Go on: ${left} to make` : left ? `Make ${left === 1 ? 'it' : `all ${left}`}` : 'All made'}
        </button>
      )}
      <progress max={1} value={t.share} aria-label="The whole line" />
      <p role="status">{said.join(' · ')}</p>
      <button type="button" disabled={!done || packing} onClick={take}>
        {packing ? 'Putting the folder together …' : 'Take the folder as a zip'}
      </button>
      {fault ? (
        <p className="line-stopped" role="alert">
          The folder could not be put together: {fault}
        </p>
      ) : null}
    </section>
  );
}
