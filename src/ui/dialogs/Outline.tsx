/** The outline of an old part: from caliper readings, or along a photograph. */
import { useRef, useState } from 'react';
import { defaultElement } from '../../profiles/elements/registry.ts';
import { formSection } from '../../resolve/blank.ts';
import { type RawItem, writtenElement } from '../lanes/form-edits.ts';
import { knobsFollow } from '../lanes/knob-places.ts';
import { lengthText, typedLength } from '../measure.ts';
import { actions, shop, useShop } from '../shop.ts';
import { Dialog } from './Dialog.tsx';
import { fitForm } from './fit-form.ts';
import { layPhoto, type Photo, usePhoto } from './photo.ts';
import { deviations, readTable, spread } from './readings.ts';
import { openDialog } from './which.ts';

const WIDTH = 560;
const HEIGHT = 110;

function Readings() {
  const shown = useShop((s) => s.shownUnits);
  const field = useShop((s) => s.lastGood?.field);
  const [text, setText] = useState('');
  const { readings, skipped } = readTable(text, shown);
  const list = field ? deviations(field, readings, 0) : [];
  const most = Math.max(0.1, ...list.map((d) => Math.abs(d.by)));
  const enough = readings.length >= 2;
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
  const fit = () => {
    const { part, job } = shop.getState();
    if (!part) return;
    const fitted = fitForm(part, readings, 0, job && formSection(job.blank));
    actions.change((draft) => {
      draft.form = fitted.form.map((e) => writtenElement(draft, e as unknown as RawItem));
      if (!fitted.form.some((e) => e.share !== undefined)) delete draft.length;
    });
    actions.set({
      notice: `Fitted: the form lay ${lengthText(fitted.before, shown, 0.01)} off on the whole, now ${lengthText(fitted.after, shown, 0.01)}`,
    });
  };
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
        onChange={(e) => setText(e.target.value)}
      />
      <p role="status">
        {readings.length} readings{skipped ? `, ${skipped} lines left out` : ''}
        {list.length
          ? `; the form lies ${lengthText(spread(list), shown, 0.01)} off on the whole, at most ${lengthText(Math.max(...list.map((d) => Math.abs(d.by))), shown, 0.01)}`
          : ''}
      </p>
      {list.length > 1 && field ? (
        <svg width={WIDTH} height={HEIGHT} role="img" aria-label="Deviation of the form from the readings along x">
          <line className="form-axis" x1={0} x2={WIDTH} y1={HEIGHT / 2} y2={HEIGHT / 2} />
          {list.map((d) => {
            const x = (d.x / field.length) * (WIDTH - 8) + 4;
            return (
              <path
                key={`${d.x} ${d.by}`}
                className="deviation"
                d={`M${x} ${HEIGHT / 2}V${HEIGHT / 2 - (d.by / most) * (HEIGHT / 2 - 16)}`}
              />
            );
          })}
          <text x={4} y={12}>{`thicker by ${lengthText(most, shown, 0.01)}`}</text>
          <text x={4} y={HEIGHT - 3}>{`thinner by ${lengthText(most, shown, 0.01)}`}</text>
        </svg>
      ) : null}
      <p className="dialog-row">
        <button type="button" className="main-button" disabled={!enough} onClick={() => take('whole')}>
          Make it the whole form
        </button>
        <button type="button" disabled={!enough} onClick={() => take('behind')}>
          Add it behind the form
        </button>
        <button type="button" disabled={!enough || !list.length} onClick={fit}>
          Fit the form’s elements to it
        </button>
      </p>
    </section>
  );
}

function Photograph() {
  const shown = useShop((s) => s.shownUnits);
  const length = useShop((s) => s.lastGood?.field.length ?? 100);
  const photo = usePhoto();
  const file = useRef<HTMLInputElement>(null);
  const [next, setNext] = useState<'a' | 'b'>('a');
  const load = (from: File | undefined) => {
    if (!from) return;
    const url = URL.createObjectURL(from);
    const picture = new Image();
    picture.onload = () => {
      const { naturalWidth: width, naturalHeight: height } = picture;
      layPhoto({
        url,
        width,
        height,
        a: { px: width * 0.05, py: height / 2, x: 0 },
        b: { px: width * 0.95, py: height / 2, x: length },
      });
    };
    picture.onerror = () => actions.set({ notice: `${from.name} is no picture that this browser can show` });
    picture.src = url;
  };
  const place = (which: 'a' | 'b', change: Partial<Photo['a']>) => {
    if (photo) layPhoto({ ...photo, [which]: { ...photo[which], ...change } });
  };
  return (
    <section>
      <h3>Photograph</h3>
      <p>
        Lay it behind the Form lane: mark two points on its axis, left one first, and say where they stand on the form.
      </p>
      <p className="dialog-row">
        <button type="button" onClick={() => file.current?.click()}>
          {photo ? 'Another picture' : 'Choose a picture'}
        </button>
        {photo ? (
          <button type="button" onClick={() => layPhoto(undefined)}>
            Take it off
          </button>
        ) : null}
        <input
          ref={file}
          type="file"
          accept="image/*"
          className="unseen"
          tabIndex={-1}
          aria-label="Photograph"
          onChange={(e) => load(e.target.files?.[0])}
        />
      </p>
      {photo ? (
        <>
          <svg
            className="photo-marks"
            viewBox={`0 0 ${photo.width} ${photo.height}`}
            role="img"
            aria-label="The photograph with its two marks"
            onPointerDown={(e) => {
              const box = e.currentTarget.getBoundingClientRect();
              place(next, {
                px: ((e.clientX - box.left) / box.width) * photo.width,
                py: ((e.clientY - box.top) / box.height) * photo.height,
              });
              setNext(next === 'a' ? 'b' : 'a');
            }}
          >
            <image href={photo.url} width={photo.width} height={photo.height} />
            <line x1={photo.a.px} y1={photo.a.py} x2={photo.b.px} y2={photo.b.py} />
            {[photo.a, photo.b].map((p, i) => (
              <circle key={i === 0 ? 'a' : 'b'} cx={p.px} cy={p.py} r={photo.width / 90} />
            ))}
          </svg>
          <p className="dialog-row">
            {(['a', 'b'] as const).map((which) => (
              <label key={which} className="typed">
                <span>{which === 'a' ? 'first mark at' : 'second mark at'}</span>
                <input
                  type="text"
                  defaultValue={lengthText(photo[which].x, shown)}
                  onBlur={(e) => {
                    const mm = typedLength(e.target.value, shown);
                    if (mm !== undefined) place(which, { x: mm });
                  }}
                />
              </label>
            ))}
          </p>
        </>
      ) : null}
    </section>
  );
}

export function OutlineDialog() {
  return (
    <Dialog title="From an old part" wide>
      <Readings />
      <Photograph />
    </Dialog>
  );
}
