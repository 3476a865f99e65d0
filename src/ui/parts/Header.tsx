/** Name of the part, whether it is stored, undo, units, light; and the verdict with what the part takes and costs. */
import '../theme/header.css';
import { lazy, Suspense } from 'react';
import { useArrivals } from '../dialogs/arrivals.ts';
import { openDialog, useOpenDialog } from '../dialogs/which.ts';
import { useKeys } from '../keys/use-keys.ts';
import { useBuilt } from '../lanes/built.ts';
import { timeWords } from '../lanes/words.ts';
import { actions, useShop } from '../shop.ts';
import { nextTheme, useTheme, useThemeWords } from '../theme/use-theme.ts';

const Dialogs = lazy(() => import('../dialogs/index.tsx').then((m) => ({ default: m.Dialogs })));

/** The verdict, said to the eye and to a screen reader. */
function Verdict() {
  const build = useShop((s) => s.build);
  const blocked = useShop((s) => s.problems.some((p) => p.severity === 'refuse'));
  const { built, fresh } = useBuilt();
  if (build.status === 'working') {
    const share = Math.round(build.share * 100);
    return (
      <div className="pill pill-working">
        <progress max={100} value={share} aria-label={build.what} />
        <span>
          {build.what} · {share} %
        </span>
        <button type="button" onClick={() => actions.stop()}>
          Stop
        </button>
      </div>
    );
  }
  const said =
    !built || !fresh
      ? ''
      : `${built.verdict === 'proven' ? 'Proven' : 'Refused'} · ${timeWords(built.time_s)} · ${built.price.unit.toFixed(2)} each`;
  if (said && built)
    return (
      <div className={`pill pill-${built.verdict}`}>
        <span>{said}</span>
      </div>
    );
  return (
    <button type="button" className="pill pill-ask" disabled={blocked} onClick={() => actions.prove()}>
      {build.status === 'failed' ? 'Prove again' : built ? 'Prove the change' : 'Prove'}
    </button>
  );
}

function Said() {
  const { built, fresh } = useBuilt();
  const said =
    built && fresh
      ? built.verdict === 'proven'
        ? `Proven: nothing gouged, the job takes ${timeWords(built.time_s)}.`
        : `Refused: ${built.findings.find((f) => f.severity === 'refuse')?.message ?? built.problems.find((p) => p.severity === 'refuse')?.message ?? ''}`
      : '';
  return (
    <div className="unseen" role="status" aria-live="polite">
      {said}
    </div>
  );
}

export function Header() {
  const name = useShop((s) => String(s.raw.name ?? ''));
  const saved = useShop((s) => s.saved);
  const undos = useShop((s) => s.undoDepth);
  const redos = useShop((s) => s.redoDepth);
  const shown = useShop((s) => s.shownUnits);
  const theme = useShop((s) => s.theme);
  const themeWords = useThemeWords();
  const dialog = useOpenDialog();
  useKeys();
  useTheme();
  useArrivals();
  return (
    <header className="head">
      <h1>
        <input
          className="part-name"
          aria-label="Name of the part"
          value={name}
          maxLength={80}
          size={Math.max(8, name.length + 1)}
          onChange={(e) => actions.edit(['name'], e.target.value || undefined, 'type name')}
          onBlur={() => actions.settle()}
          onKeyDown={(e) => (e.key === 'Enter' ? e.currentTarget.blur() : undefined)}
        />
      </h1>
      <span className="saved" role="status">
        {saved ? 'saved' : 'saving …'}
      </span>
      <div className="head-tools">
        <button type="button" className="counted" disabled={!undos} onClick={() => actions.undo()} title="Ctrl Z">
          Undo{undos ? ` ${undos}` : ''}
        </button>
        <button type="button" className="counted" disabled={!redos} onClick={() => actions.redo()} title="Ctrl Shift Z">
          Redo{redos ? ` ${redos}` : ''}
        </button>
        <button
          type="button"
          onClick={() => actions.set({ shownUnits: shown === 'mm' ? 'inch' : 'mm' })}
          aria-label={
            shown === 'mm' ? 'mm: lengths are in millimetres; show inches' : 'inch: lengths are in inches; show mm'
          }
        >
          {shown === 'mm' ? 'mm' : 'inch'}
        </button>
        <button type="button" onClick={() => actions.set({ theme: nextTheme(theme) })}>
          {themeWords}
        </button>
        <button type="button" onClick={() => openDialog('drawer')}>
          Drawer
        </button>
        <button type="button" onClick={() => openDialog('outline')}>
          From an old part
        </button>
        <button type="button" onClick={() => openDialog('line')}>
          A line of these
        </button>
        <button type="button" onClick={() => openDialog('take-away')}>
          Take away
        </button>
        <button type="button" onClick={() => openDialog('keys')}>
          Keys
        </button>
      </div>
      <Verdict />
      <Said />
      <Suspense fallback={null}>{dialog ? <Dialogs key={dialog} name={dialog} /> : null}</Suspense>
    </header>
  );
}
