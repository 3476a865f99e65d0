/** A table of caliper readings: how far the form lies from it, and what can be made of it. */
import { useEffect, useRef, useState } from 'react';
import { defaultElement } from '../../profiles/elements/registry.ts';
import { formSection } from '../../resolve/blank.ts';
import { type RawItem, writtenElement } from '../lanes/form-edits.ts';
import { knobsFollow } from '../lanes/knob-places.ts';
import { lengthText } from '../measure.ts';
import { actions, shop, useShop } from '../shop.ts';
import { DeviationDrawing } from './DeviationDrawing.tsx';
import { type Fitted, fitting } from './fit-form.ts';
import { deviations, type Reading, readTable, spread } from './readings.ts';
import { openDialog } from './which.ts';

/** The page is drawn again after so long, ms. */
const AWAKE = 30;

/** Lines left out that are told one by one. */
const MOST_TOLD = 5;
const lines = (n: number) => `${n} line${n === 1 ? '' : 's'}`;

/** Fits in pieces, so that the page stays awake. @returns what stops it */
function fitSlowly(
  steps: Generator<number, Fitted>,
  tell: (share: number) => void,
  finish: (fitted: Fitted) => void,
): () => void {
  let stopped = false;
  const go = () => {
    const began = performance.now();
    while (!stopped) {
      const { done, value } = steps.next();
      if (done) {
        finish(value);
        return;
      }
      if (performance.now() - began > AWAKE) {
        tell(value);
        setTimeout(go, 0);
        return;
      }
    }
  };
  setTimeout(go, 0);
  return () => {
    stopped = true;
  };
}

/** Fits the form on the bench to readings; one step of undo. */
function useFit(readings: readonly Reading[], offset: number) {
  const shown = useShop((s) => s.shownUnits);
  const [share, setShare] = useState<number>();
  const [said, setSaid] = useState('');
  const stop = useRef(() => {});
  useEffect(() => () => stop.current(), []);
  const begin = () => {
    const { part, job, serial } = shop.getState();
    if (!part) return;
    setSaid('');
    setShare(0);
    stop.current = fitSlowly(fitting(part, readings, offset, job && formSection(job.blank)), setShare, (fitted) => {
      setShare(undefined);
      if (shop.getState().serial !== serial) return;
      actions.change((draft) => {
        draft.form = fitted.form.map((e) => writtenElement(draft, e as unknown as RawItem));
        if (!fitted.form.some((e) => e.share !== undefined)) delete draft.length;
      });
      const mm = (v: number) => lengthText(v, shown, 0.01);
      setSaid(`Fitted: the form lay ${mm(fitted.before)} off on the whole, now ${mm(fitted.after)}.`);
    });
  };
  const end = () => {
    stop.current();
    setShare(undefined);
  };
  return { share, said, begin, end };
}

interface Props {
  text: string;
  onText: (text: string) => void;
  /** Whether positions are those of the form, as on a photograph that lies on it; else they count from the first reading. */
  placed: boolean;
}

export function Readings({ text, onText, placed }: Props) {
  const shown = useShop((s) => s.shownUnits);
  const field = useShop((s) => s.lastGood?.field);
  const { readings, leftOut, unordered } = readTable(text, shown);
  const offset = placed ? (readings[0]?.at ?? 0) : 0;
  const list = field ? deviations(field, readings, offset) : [];
  const enough = readings.length >= 2;
  const fit = useFit(readings, offset);
  const take = (how: 'whole' | 'behind') => {
    const element = { ...(defaultElement('measured') as unknown as RawItem), readings };
    actions.change((draft) => {
      const written = writtenElement(draft, element);
      if (how === 'behind' && Array.isArray(draft.form)) draft.form.push(written);
      else draft.form = [written];
      delete draft.length;
      if (how === 'whole') delete draft.carvings;
      knobsFollow(draft, 'form');
      knobsFollow(draft, 'carvings');
    });
    openDialog(undefined);
  };
  const off = list.length
    ? `; the form lies ${lengthText(spread(list), shown, 0.01)} off on the whole, at most ${lengthText(Math.max(...list.map((d) => Math.abs(d.by))), shown, 0.01)}`
    : '';
  return (
    <section>
      <h3>Readings</h3>
      <p>
        A position and a diameter a line, from the chuck end on, in {shown === 'mm' ? 'millimetres' : 'inches'} or with
        the unit behind the number.
      </p>
      <textarea
        rows={7}
        aria-label="Table of readings"
        placeholder={'0   36\n12.5   31.2\n12.5   28\n40   24.8'}
        value={text}
        onChange={(e) => onText(e.target.value)}
      />
      <p role="status">
        {readings.length} readings{leftOut.length ? `, ${lines(leftOut.length)} left out` : ''}
        {off}.{' '}
        {unordered === undefined
          ? ''
          : `Line ${unordered} lies before the one above it: the readings are put in the order of their positions. `}
        {fit.said}
      </p>
      {leftOut.length ? (
        <ul className="left-out" aria-label="Lines left out">
          {leftOut.slice(0, MOST_TOLD).map((l) => (
            <li key={l.line}>
              Line {l.line}, “{l.text}”: {l.why}
            </li>
          ))}
          {leftOut.length > MOST_TOLD ? <li>and {leftOut.length - MOST_TOLD} more</li> : null}
        </ul>
      ) : null}
      {field && list.length > 1 ? <DeviationDrawing list={list} length={field.length} /> : null}
      {fit.share === undefined ? (
        <p className="dialog-row">
          <button type="button" className="main-button" disabled={!enough} onClick={() => take('whole')}>
            Make it the whole form
          </button>
          <button type="button" disabled={!enough} onClick={() => take('behind')}>
            Add it behind the form
          </button>
          <button type="button" disabled={!enough || !list.length} onClick={fit.begin}>
            Fit the form’s elements to it
          </button>
        </p>
      ) : (
        <p className="dialog-row">
          <progress max={1} value={fit.share} aria-label="Fitting the elements" />
          <button type="button" onClick={fit.end}>
            Stop
          </button>
        </p>
      )}
    </section>
  );
}
