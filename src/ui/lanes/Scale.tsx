/** The drawn ruler: numbered ticks in mm or inches, and where the pointer stands. */
import { MM_PER_INCH } from '../../../shared/units.ts';
import { lengthNumber } from '../measure.ts';
import { type Ruler, ticks, toPixel } from '../ruler.ts';
import { useShop } from '../shop.ts';

const HEIGHT = 30;
/** Width of a figure, px: a number that the lane's end would cut off is left out. */
const LETTER = 8;

export function Scale({ ruler }: { ruler: Ruler }) {
  const shown = useShop((s) => s.shownUnits);
  const at = useShop((s) => s.pointerX);
  const marks = ticks(ruler, shown === 'mm' ? 1 : MM_PER_INCH);
  const px = at === undefined ? undefined : toPixel(ruler, at);
  return (
    <svg className="scale" width={ruler.width} height={HEIGHT} aria-hidden="true">
      {marks.map(({ x, text }) => {
        const p = toPixel(ruler, x);
        return (
          <g key={x}>
            <line x1={p} x2={p} y1={0} y2={text === undefined ? 5 : 11} />
            {text === undefined || p + 4 + LETTER * text.length > ruler.width ? null : (
              <text x={p + 4} y={21}>
                {text}
              </text>
            )}
          </g>
        );
      })}
      {px === undefined || at === undefined ? null : (
        <g className="scale-at">
          <rect x={px - 30} y={8} width={60} height={20} rx={4} />
          <text x={px} y={22} textAnchor="middle">
            {lengthNumber(at, shown)}
          </text>
        </g>
      )}
    </svg>
  );
}
