/** Sliders of what is selected, each part a panel of its own. Loaded after the first paint. */
import { LevaPanel, useControls, useCreateStore } from 'leva';
import { useMemo } from 'react';
import '../theme/sliders.css';
import { useShop } from '../shop.ts';
import { partsOf } from './about-selection.ts';
import { type FieldGroup, fieldsAt } from './fields.ts';
import { GroupHead, ListTools, PartTitle } from './GroupHead.tsx';
import { fieldInput } from './Row.tsx';
import { panelTheme } from './theme.ts';

function GroupPanel({ group }: { group: FieldGroup }) {
  const store = useCreateStore();
  useControls(
    () => Object.fromEntries(group.rows.map((row) => [row.path.join('/'), fieldInput({ field: row })])),
    { store },
    [JSON.stringify(group.rows)],
  );
  return <LevaPanel store={store} fill flat titleBar={false} hideCopyButton theme={panelTheme} />;
}

export function Panel() {
  const selection = useShop((s) => s.selection);
  const shown = useShop((s) => s.shownUnits);
  const raw = useShop((s) => s.raw);
  const layout = useShop((s) => s.layout);
  const lastGood = useShop((s) => s.lastGood);
  const part = useShop((s) => s.part);
  const parts = partsOf({ raw, layout, lastGood, part }, selection, shown);
  // The shape of what can be set, not its values: those live in their rows.
  const shape = JSON.stringify(parts.map((p) => fieldsAt(raw, p.path, p.only)));
  const groups = useMemo(() => JSON.parse(shape, revive) as FieldGroup[][], [shape]);
  return (
    <>
      {parts.map((p, i) => (
        <section className="panel-part" key={`${p.path.join('/')} ${p.title}`} aria-label={p.title}>
          <PartTitle part={p} />
          <p className="panel-note">{p.note}</p>
          {(groups[i] ?? []).map((g) => (
            <div key={g.path.join('/')}>
              {g.path.length > p.path.length ? <GroupHead group={g} /> : null}
              {g.rows.length ? <GroupPanel key={g.rows.map((r) => r.path.join('/')).join(' ')} group={g} /> : null}
              {g.list && g.optional?.present !== false ? <ListTools group={g} /> : null}
            </div>
          ))}
        </section>
      ))}
    </>
  );
}

/** JSON has no infinite limits: an absent one comes back as null. */
const revive = (key: string, value: unknown) =>
  value === null && key === 'min' ? -Infinity : value === null && (key === 'max' || key === 'most') ? Infinity : value;
