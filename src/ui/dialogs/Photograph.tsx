/** A photograph of an old part: laid behind the Form lane by two marks on its axis, and read as a table of diameters. */
import { type KeyboardEvent, type PointerEvent, useRef, useState } from 'react';
import { lengthNumber, lengthText, typedLength } from '../measure.ts';
import { useShop } from '../shop.ts';
import { layPhoto, type Photo, usePhoto } from './photo.ts';
import { pixelsOf } from './pixels.ts';
import { edgesOf, outlineOf, straightened } from './silhouette.ts';

type Which = 'a' | 'b';
const NAMES: Record<Which, string> = { a: 'first mark', b: 'second mark' };

function Marks({ photo, place }: { photo: Photo; place: (which: Which, change: Partial<Photo['a']>) => void }) {
  const [next, setNext] = useState<Which>('a');
  const byKey = (which: Which) => (e: KeyboardEvent) => {
    const way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[e.key];
    if (!way) return;
    e.preventDefault();
    const by = e.shiftKey ? 10 : 1;
    const { px, py } = photo[which];
    place(which, { px: px + way[0]! * by, py: py + way[1]! * by });
  };
  /** Where a pointer stands in the picture, which may lie in the middle of its box: the browser knows where. */
  const under = (e: PointerEvent<SVGElement>) => {
    const drawing = e.currentTarget.closest('svg')!.getScreenCTM();
    const { x, y } = new DOMPoint(e.clientX, e.clientY).matrixTransform(drawing?.inverse());
    return { px: x, py: y };
  };
  return (
    <svg
      className="photo-marks"
      viewBox={`0 0 ${photo.width} ${photo.height}`}
      onPointerDown={(e) => {
        place(next, under(e));
        setNext(next === 'a' ? 'b' : 'a');
      }}
    >
      <title>The photograph with its two marks</title>
      <image href={photo.url} width={photo.width} height={photo.height} />
      <line x1={photo.a.px} y1={photo.a.py} x2={photo.b.px} y2={photo.b.py} />
      {(['a', 'b'] as const).map((which) => (
        // biome-ignore lint/a11y/useSemanticElements: there is no such element inside a drawing
        <circle
          key={which}
          role="button"
          tabIndex={0}
          aria-label={`${NAMES[which]}: arrow keys move it`}
          cx={photo[which].px}
          cy={photo[which].py}
          r={photo.width / 90}
          onKeyDown={byKey(which)}
          onPointerDown={(e) => {
            e.stopPropagation();
            e.currentTarget.setPointerCapture(e.pointerId);
          }}
          onPointerMove={(e) => {
            if (e.buttons & 1) place(which, under(e));
          }}
        />
      ))}
    </svg>
  );
}

/** @param onText is given the table that was read, in the shown unit */
export function Photograph({ onText }: { onText: (text: string) => void }) {
  const shown = useShop((s) => s.shownUnits);
  const length = useShop((s) => s.lastGood?.field.length ?? 100);
  const photo = usePhoto();
  const file = useRef<HTMLInputElement>(null);
  const [said, setSaid] = useState('');
  const load = (from: File | undefined) => {
    if (!from) return;
    const url = URL.createObjectURL(from);
    const picture = new Image();
    picture.onload = () => {
      const { naturalWidth: width, naturalHeight: height } = picture;
      layPhoto({
        url,
        width,
        height,
        a: { px: width * 0.05, py: height / 2, x: 0 },
        b: { px: width * 0.95, py: height / 2, x: length },
      });
    };
    picture.onerror = () => setSaid(`${from.name} is no picture that this browser can show`);
    picture.src = url;
  };
  const place = (which: Which, change: Partial<Photo['a']>) => {
    if (photo) layPhoto({ ...photo, [which]: { ...photo[which], ...change } });
  };
  /** Does something with the pixels of the photograph and its marks, in the pixels' own scale. */
  const look = async (how: (pixels: Awaited<ReturnType<typeof pixelsOf>>, photo: Photo) => string) => {
    if (!photo) return;
    if (Math.abs(photo.b.x - photo.a.x) < 1e-6 || Math.hypot(photo.b.px - photo.a.px, photo.b.py - photo.a.py) < 2) {
      setSaid('The two marks tell no scale: set them apart, and say where each stands');
      return;
    }
    setSaid(how(await pixelsOf(photo), photo));
  };
  const straighten = () =>
    look(({ pixels, share }, p) => {
      const small = (m: Photo['a']) => ({ ...m, px: m.px * share, py: m.py * share });
      const edges = edgesOf(pixels, { a: small(p.a), b: small(p.b) });
      if (edges.length < 2) return 'No outline was found between the marks';
      const { a, b } = straightened({ a: small(p.a), b: small(p.b) }, edges);
      const large = (m: Photo['a']) => ({ ...m, px: m.px / share, py: m.py / share });
      layPhoto({ ...p, a: large(a), b: large(b) });
      return 'The marks lie on the middle of the outline now';
    });
  const read = () =>
    look(({ pixels, share }, p) => {
      const small = (m: Photo['a']) => ({ ...m, px: m.px * share, py: m.py * share });
      const readings = outlineOf(pixels, { a: small(p.a), b: small(p.b) });
      if (readings.length < 2) return 'No outline was found between the marks: the part must stand out from its ground';
      const number = (mm: number) => lengthNumber(mm, shown, 0.01);
      onText(readings.map((r) => `${number(r.at)}\t${number(r.diameter)}`).join('\n'));
      return `${readings.length} readings stand in the table above`;
    });
  return (
    <section>
      <h3>Photograph</h3>
      <p>
        It lies behind the Form lane. Mark two points on its axis whose distance you know, the one nearer to the chuck
        first, and say where they stand on the form.
      </p>
      <p className="dialog-row">
        <button type="button" onClick={() => file.current?.click()}>
          {photo ? 'Another picture' : 'Choose a picture'}
        </button>
        {photo ? (
          <>
            <button type="button" onClick={() => void straighten()}>
              Straighten by its outline
            </button>
            <button type="button" className="main-button" onClick={() => void read()}>
              Read its outline
            </button>
            <button type="button" onClick={() => layPhoto(undefined)}>
              Take it off
            </button>
          </>
        ) : null}
        <input
          ref={file}
          type="file"
          accept="image/*"
          className="unseen"
          tabIndex={-1}
          aria-label="Photograph"
          onChange={(e) => load(e.target.files?.[0])}
        />
      </p>
      <p role="status">{said}</p>
      {photo ? (
        <>
          <Marks photo={photo} place={place} />
          <p className="dialog-row">
            {(['a', 'b'] as const).map((which) => (
              <label key={`${which} ${shown}`} className="typed">
                <span>{NAMES[which]} at</span>
                <input
                  type="text"
                  defaultValue={lengthText(photo[which].x, shown)}
                  onBlur={(e) => {
                    const mm = typedLength(e.target.value, shown);
                    if (mm !== undefined) place(which, { x: mm });
                    else setSaid('That is no length');
                  }}
                />
              </label>
            ))}
          </p>
        </>
      ) : null}
    </section>
  );
}
