/** How far the form lies from each reading, along x: thicker upward, thinner downward. */
import { lengthText } from '../measure.ts';
import { useShop } from '../shop.ts';
import type { Deviation } from './readings.ts';

const WIDTH = 560;
const HEIGHT = 96;
/** Deviation that fills the drawing where none is larger, mm. */
const SMALL = 0.1;

export function DeviationDrawing({ list, length }: { list: readonly Deviation[]; length: number }) {
  const shown = useShop((s) => s.shownUnits);
  const most = Math.max(SMALL, ...list.map((d) => Math.abs(d.by)));
  return (
    <figure className="deviations">
      <svg viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-label="Deviation of the form from the readings along x">
        <line className="form-axis" x1={0} x2={WIDTH} y1={HEIGHT / 2} y2={HEIGHT / 2} />
        {list.map((d, i) => {
          const x = (d.x / length) * (WIDTH - 8) + 4;
          return (
            <path
              // Two readings may stand at one place; only their order tells them apart.
              key={i}
              className="deviation"
              d={`M${x} ${HEIGHT / 2}V${HEIGHT / 2 - (d.by / most) * (HEIGHT / 2 - 2)}`}
            />
          );
        })}
      </svg>
      <figcaption>
        Chuck end at the left; upward the form is thicker than the reading, downward thinner, by{' '}
        {lengthText(most, shown, 0.01)} at the edge
      </figcaption>
    </figure>
  );
}
