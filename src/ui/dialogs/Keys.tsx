/** The sheet of keys. */
import { KEYS, LANE_KEYS } from '../keys/list.ts';
import { Dialog } from './Dialog.tsx';

function Rows({ rows }: { rows: readonly { shown: string; does: string }[] }) {
  return (
    <dl className="keys-list">
      {rows.map((r) => (
        <div key={r.shown + r.does}>
          <dt>
            <kbd>{r.shown}</kbd>
          </dt>
          <dd>{r.does}</dd>
        </div>
      ))}
    </dl>
  );
}

export function Keys() {
  return (
    <Dialog title="Keys" wide>
      <h3>Anywhere</h3>
      <Rows rows={KEYS} />
      <h3>On the lanes</h3>
      <Rows rows={LANE_KEYS} />
    </Dialog>
  );
}
