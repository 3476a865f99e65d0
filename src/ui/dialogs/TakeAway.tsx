/** Programs, solid files, sheet and document: one by one or all in one. */
import { useEffect, useState } from 'react';
import { slugOf } from '../../build/slug.ts';
import { cautions, checks, GUARD_NOTE } from '../../cam/sheet/cautions.ts';
import { useBuilt } from '../lanes/built.ts';
import { actions, services, useShop } from '../shop.ts';
import type { Raw } from '../state/contract.ts';
import { Dialog } from './Dialog.tsx';
import { GoOn } from './GoOn.tsx';
import { save } from './save.ts';
import { type Taken, takenFiles } from './taken.ts';
import { openDialog } from './which.ts';
import { zipOf } from './zip.ts';

const TITLES: Record<Taken['kind'], string> = {
  program: 'Programs',
  solid: 'Solid',
  sheet: 'Setup sheet',
  report: 'Report',
  part: 'Part document',
};
const size = (content: Uint8Array | string) =>
  `${Math.max(1, Math.round(content.length / 1024)).toLocaleString('en')} kB`;

type Files = ReadonlyMap<string, Uint8Array | string>;

/** The solid of a part that is not proven as it stands: made as soon as the dialog asks. */
function useSolid(raw: Raw, wanted: boolean): { files?: Files; fault?: string; making: boolean } {
  const [made, setMade] = useState<{ files?: Files; fault?: string }>();
  useEffect(() => {
    if (!wanted) return;
    const work = services.solidFiles(raw);
    work.result.then(
      (entries) => setMade({ files: new Map(entries) }),
      (fault: unknown) => setMade({ fault: fault instanceof Error ? fault.message : String(fault) }),
    );
    return work.stop;
  }, [raw, wanted]);
  return { ...made, making: wanted && !made };
}

export function TakeAway() {
  const raw = useShop((s) => s.raw);
  const job = useShop((s) => s.job);
  const guard = useShop((s) => s.part?.guard ?? false);
  const { built, fresh } = useBuilt();
  const [unproven, setUnproven] = useState(false);
  const slug = slugOf(String(raw.name ?? ''));
  const now = fresh ? built : undefined;
  const refused = now?.verdict === 'refused';
  const hasForm = useShop((s) => s.field !== undefined);
  const solid = useSolid(raw, !now && hasForm);
  const files = takenFiles(raw, slug, now, unproven, now ? undefined : solid.files);
  const worst =
    now?.findings.find((f) => f.severity === 'refuse')?.message ??
    now?.problems.find((p) => p.severity === 'refuse')?.message;
  return (
    <Dialog title="Take it away" wide>
      {now ? null : (
        <p className="dialog-ask">
          Programs and sheet are made by proving the part as it is now. Until then the list, and the zip too, holds the
          solid and the document only.{' '}
          <button
            type="button"
            onClick={() => {
              actions.prove();
              openDialog(undefined);
            }}
          >
            Prove it
          </button>
        </p>
      )}
      {refused ? (
        <div className="dialog-refused" role="alert">
          <p>
            <strong>Refused.</strong> {worst}. Its programs are kept back.
          </p>
          <label>
            <input type="checkbox" checked={unproven} onChange={(e) => setUnproven(e.target.checked)} /> I know that
            these programs failed the proof and may ruin part, bit or machine; give them to me named UNPROVEN
          </label>
        </div>
      ) : null}
      <ul className="take-list">
        {files.map((f) => (
          <li key={f.name}>
            <span>{TITLES[f.kind]}</span>
            <code>{f.name}</code>
            <span className="take-size">{size(f.content)}</span>
            <button type="button" aria-label={`Take ${f.name}`} onClick={() => save(f.name, f.content)}>
              Take
            </button>
          </li>
        ))}
      </ul>
      <p role="status">
        {solid.making ? 'The solid is being made …' : solid.fault ? `There is no solid to take: ${solid.fault}` : ''}
      </p>
      <p className="dialog-row">
        <button
          type="button"
          className="main-button"
          disabled={solid.making}
          onClick={() => save(`${slug}.zip`, zipOf(new Map(files.map((f) => [f.name, f.content])), slug))}
        >
          {files.some((f) => f.kind === 'program')
            ? 'Take all as one zip'
            : `Take all as one zip: ${refused ? 'no programs' : 'no programs yet'}`}
        </button>
        <button type="button" onClick={() => openDialog('link')}>
          A link instead
        </button>
      </p>
      {now?.verdict === 'proven' ? <GoOn raw={raw} texts={now.programs.map((p) => p.text)} /> : null}
      {job ? (
        <section className="cautions" aria-label="Cautions">
          <h3>Before the spindle starts</h3>
          <ul>
            {checks(job).map((c) => (
              <li key={c}>{c}</li>
            ))}
          </ul>
          <h3>While it turns</h3>
          <ul>
            {cautions(job).map((c) => (
              <li key={c}>{c}</li>
            ))}
            {guard ? <li className="caution-guard">{GUARD_NOTE}</li> : null}
          </ul>
        </section>
      ) : null}
    </Dialog>
  );
}
