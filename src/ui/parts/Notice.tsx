/** One sentence for the person, read out by screen readers. */
import { actions, useShop } from '../shop.ts';

export function Notice() {
  const notice = useShop((s) => s.notice);
  return (
    <div className="notice" role="status" aria-live="polite" data-empty={!notice || undefined}>
      <span>{notice}</span>
      {notice ? (
        <button type="button" onClick={() => actions.set({ notice: '' })}>
          Good
        </button>
      ) : null}
    </div>
  );
}
