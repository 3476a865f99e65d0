/** One sentence for the person, read out by screen readers. */
import { useShop } from '../shop.ts';

export function Notice() {
  const notice = useShop((s) => s.notice);
  return (
    <div role="status" aria-live="polite">
      {notice}
    </div>
  );
}
