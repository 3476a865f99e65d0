/** What a row or a part of the panel means: its sentence, and a drawing where that says more. */
import type { Carving } from '../../profiles/carvings/registry.ts';
import { carvingBars } from '../lanes/carving-bars.ts';
import type { Drawing } from '../lanes/moulding.ts';
import { useShop } from '../shop.ts';
import type { Workshop } from '../state/contract.ts';
import type { Rod } from './carving-view.ts';
import { carvingEffect, type EffectDrawing, effectDrawing } from './effect.ts';
import type { FieldRow } from './fields.ts';

/** Longest rod that is drawn for its thickness: beyond it the lines of a carving cannot be told apart. */
const LONGEST = 4;

/** The stretch of the form under a carving, as a rod. */
function rodUnder(s: Pick<Workshop, 'part' | 'layout' | 'field'>, index: number): Rod | undefined {
  const { part, layout, field } = s;
  if (!part || !layout?.placed.length || !field) return undefined;
  const bar = carvingBars(part, layout, 'mm').find((b) => b.index === index);
  if (!bar || !(bar.to > bar.from)) return undefined;
  const diameter = 2 * field.bounds(bar.from, bar.to)[1];
  return { diameter, length: Math.min(bar.to - bar.from, LONGEST * diameter) };
}

function useEffectDrawing(row: FieldRow): EffectDrawing | undefined {
  const part = useShop((s) => s.part);
  const layout = useShop((s) => s.layout);
  const field = useShop((s) => s.field);
  const [root, index, key] = row.path;
  if (!part || row.kind !== 'number' || typeof index !== 'number' || typeof key !== 'string') return undefined;
  if (root === 'form') {
    const element = part.form[index];
    return element && effectDrawing(element, key, row);
  }
  const carving: Carving | undefined = root === 'carvings' ? part.carvings?.[index] : undefined;
  const rod = carving && rodUnder({ part, layout, field }, index);
  return rod && carvingEffect(carving, key, row, rod);
}

export function Meaning({ row }: { row: FieldRow }) {
  const drawn = useEffectDrawing(row);
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
            <path className="meaning-line" d={drawn.lines} />
            <path className="meaning-more" d={drawn.more} />
          </svg>
          <figcaption>
            {drawn.lines ? 'drawn out: now; dashed: more of it' : 'filled: now; dashed: more of it'}
          </figcaption>
        </figure>
      ) : null}
    </div>
  );
}

/** The same for a whole element, carving or group. */
export function PartMeaning({ words, drawing, name }: { words: string; drawing?: Drawing | undefined; name: string }) {
  return (
    <div className="meaning" role="note">
      <p>{words}</p>
      {drawing ? (
        <figure>
          <svg width={drawing.width} height={drawing.height} role="img" aria-label={`${name}, drawn`}>
            <path className="meaning-now" d={drawing.path} />
          </svg>
        </figure>
      ) : null}
    </div>
  );
}
