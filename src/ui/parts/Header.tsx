/** Name of the part, whether it is stored, and the verdict with what it takes and costs. */
import { actions, useShop } from '../shop.ts';

export function Header() {
  const name = useShop((s) => String(s.raw.name ?? ''));
  const saved = useShop((s) => s.saved);
  const depth = useShop((s) => s.undoDepth);
  const build = useShop((s) => s.build);
  const serial = useShop((s) => s.serial);
  const fresh = build.status === 'ready' && build.serial === serial ? build.value : undefined;
  return (
    <header style={{ gridArea: 'head' }}>
      <h1>{name}</h1>
      <span>
        {saved ? 'saved' : 'saving'} · undo {depth}
      </span>
      <button type="button" onClick={() => actions.prove()}>
        {build.status === 'working' ? build.what : fresh ? fresh.verdict : 'Prove'}
      </button>
    </header>
  );
}
