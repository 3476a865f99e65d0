/** What a row means: its sentence, and for an element a drawing of what more of it does. */
import { useShop } from '../shop.ts';
import { effectDrawing } from './effect.ts';
import type { FieldRow } from './fields.ts';

export function Meaning({ row }: { row: FieldRow }) {
  const part = useShop((s) => s.part);
  const [root, index, key] = row.path;
  const element = root === 'form' && typeof index === 'number' ? part?.form[index] : undefined;
  const drawn =
    element && typeof key === 'string' && row.kind === 'number' ? effectDrawing(element, key, row) : undefined;
  return (
    <div className="meaning" role="note">
      <p>{row.description}</p>
      {drawn ? (
        <figure>
          <svg
            width={drawn.width}
            height={drawn.height}
            role="img"
            aria-label={`${row.label}: now, and with more of it`}
          >
            <path className="meaning-now" d={drawn.now} />
            <path className="meaning-more" d={drawn.more} />
          </svg>
          <figcaption>filled: now; dashed: more of it</figcaption>
        </figure>
      ) : null}
    </div>
  );
}
