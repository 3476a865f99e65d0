/** Words and fine lines over the picture, placed by the same ruler. */
import { MM_PER_INCH } from '../../../shared/units.ts';
import { outerRadius } from '../../cam/blank.ts';
import type { Job } from '../../cam/job.ts';
import { type Ruler, toPixel } from '../ruler.ts';
import { useShop } from '../shop.ts';
import { besideBit } from './bit-words.ts';
import { type Framing, heightToPixel } from './framing.ts';

/** @returns a length as it is shown, without its unit */
export const shown = (mm: number, units: 'mm' | 'inch'): string =>
  units === 'inch' ? `${(mm / MM_PER_INCH).toFixed(2)} in` : mm.toFixed(1);

/** What the spindle can still rise, mm: the bench tells how high the holder's face comes. @param stickOut of the bit, mm */
export const roomLeft = (job: Job, tip: number, stickOut: number): number => job.bench.roomAbove - (tip + stickOut);

interface Props {
  ruler: Ruler;
  framing: Framing;
  height: number;
  job: Job;
  bitAt: { x: number; tip: number; text: string; top: number; wide: number; clear: number } | undefined;
  /** Whether the words stand above the picture instead. */
  wordless: boolean;
}

const swingWords = (job: Job, units: 'mm' | 'inch'): string =>
  `${job.blank.section === 'round' ? 'turns within' : 'corners swing to'} ${shown(outerRadius(job.blank), units)}`;

const roomWords = (clear: number, units: 'mm' | 'inch'): string =>
  clear >= 0 ? `room left above ${shown(clear, units)}` : `${shown(-clear, units)} too little room above`;

/** The words of a narrow picture, above it: on it they would lie over chuck and part. */
export function WordsAbove({ job, bitAt }: Pick<Props, 'job' | 'bitAt'>) {
  const units = useShop((s) => s.shownUnits);
  return (
    <p className="stage-above" data-tight={(bitAt && bitAt.clear < 0) || undefined}>
      {[...(bitAt ? [bitAt.text, roomWords(bitAt.clear, units)] : []), swingWords(job, units)].join(' · ')}
    </p>
  );
}

export function Labels({ ruler, framing, height, job, bitAt, wordless }: Props) {
  const units = useShop((s) => s.shownUnits);
  const swing = outerRadius(job.blank);
  const left = toPixel(ruler, job.blank.from);
  const right = toPixel(ruler, job.blank.to);
  const y = heightToPixel(framing, swing);
  const wordsX = Math.min(ruler.width - 8, right);
  return (
    <svg className="stage-words" width={ruler.width} height={height} aria-hidden="true">
      <line className="stage-axis" x1={left - 24} x2={right + 24} y1={framing.axisY} y2={framing.axisY} />
      {y > 0 ? (
        <g>
          <line className="stage-swing" x1={left} x2={right} y1={y} y2={y} />
          {wordsX > 90 && !wordless ? (
            <text x={wordsX} y={y - 6} textAnchor="end">
              {swingWords(job, units)}
            </text>
          ) : null}
        </g>
      ) : null}
      {bitAt ? (
        <BitWords ruler={ruler} framing={framing} height={height} at={bitAt} units={units} wordless={wordless} />
      ) : null}
    </svg>
  );
}

function BitWords(props: {
  ruler: Ruler;
  framing: Framing;
  height: number;
  at: NonNullable<Props['bitAt']>;
  units: 'mm' | 'inch';
  wordless: boolean;
}) {
  const { ruler, framing, height, at, units, wordless } = props;
  const px = toPixel(ruler, at.x);
  const tip = heightToPixel(framing, at.tip);
  const said = [at.text, roomWords(at.clear, units)];
  const { x, end, lines } = besideBit(px, at.wide / framing.perPixel, said, ruler.width);
  return (
    <g>
      <line className="stage-drop" x1={px} x2={px} y1={tip} y2={height} />
      {(wordless ? [] : lines).map((words, i) => (
        <text
          key={words}
          x={x}
          y={18 + 18 * i}
          textAnchor={end ? 'end' : 'start'}
          className={at.clear < 0 ? 'stage-tight' : undefined}
        >
          {words}
        </text>
      ))}
    </g>
  );
}
