/**
 * Several pieces on one stick as one part document: their forms one after the other with parting grooves between, so that
 * everything that plans, proves and prices a part does the same for the whole stick.
 */
import type { Problem } from '../../shared/problems.ts';
import { checkPart, type Part } from '../part.ts';
import type { Element } from '../profiles/elements/registry.ts';
import { formSection, sectionSize } from '../resolve/blank.ts';
import { resolvePart } from '../resolve.ts';
import { type Neck, neckOf } from './stick-neck.ts';
import { angleOf, atAngle, isWrung, type Piece, type PlacedCarving, pieceOf, wrungBy } from './stick-piece.ts';
import { endForEnd } from './stick-turn.ts';

/** A piece on a stick, from the chuck on. */
export interface StickPiece {
  /** For labels and messages. */
  readonly name: string;
  readonly part: Part;
  /** Its tail-side face looks at the chuck. */
  readonly turned?: boolean;
}

/** What the stick has that its pieces do not tell. */
export interface StickWish {
  readonly name: string;
  /** Blank, bench, control, bits, feeds, plan, holding, tolerance, price; left out, the first piece's. */
  readonly like?: Partial<
    Pick<Part, 'blank' | 'bench' | 'control' | 'bits' | 'plan' | 'holding' | 'tolerance' | 'price'>
  >;
  /** What the saw takes with its play, mm; left out, 3. */
  readonly saw?: number;
  /** Diameter of the necks, mm; left out, what twist and bending ask for. */
  readonly neck?: number;
}

/** Where a piece came to lie, mm from the chuck-side face of the first. */
export interface OnStick {
  readonly name: string;
  readonly from: number;
  readonly to: number;
  readonly turned: boolean;
}

export type Stick =
  | {
      readonly part: Part;
      readonly pieces: readonly OnStick[];
      readonly neck: Neck;
      readonly problems: readonly Problem[];
    }
  | { readonly part?: undefined; readonly problems: readonly Problem[] };

/** A hand saw's kerf and the play that a hand needs, mm (common practice, no source). */
const SAW = 3;
/** Neck of the draft from which the true one is reckoned, mm. */
const DRAFT_NECK = 12;

const refuse = (code: Problem['code'], path: string, message: string, allowed: string): Stick => ({
  problems: [{ code, severity: 'refuse', path, message, allowed }],
});

/**
 * Puts pieces on one stick.
 * @param pieces from the chuck to the tail, at least one; parts as `parsePart` gives them
 * @returns the document of the whole stick with what is worth saying about it, or what is wrong
 */
export function composeStick(pieces: readonly StickPiece[], wish: StickWish): Stick {
  const first = pieces[0];
  if (!first) return refuse('wrong-shape', '', 'a stick needs at least one piece', 'one piece or more');
  const like = { ...first.part, ...wish.like };
  if (like.blank.width === undefined)
    return refuse(
      'wrong-shape',
      'blank.width',
      'is missing: a stick is cut from stock of a known width',
      'the width of your stock in mm',
    );
  const section = formSection(sectionSize(like.blank, 0));
  const made: Piece[] = [];
  for (const { name, part, turned } of pieces) {
    const written = pieceOf(part, section);
    if ('problems' in written)
      return { problems: written.problems.map((p) => ({ ...p, message: `${name}: ${p.message}` })) };
    const piece = turned ? endForEnd(written.piece) : written.piece;
    if (!piece)
      return refuse(
        'carving-range',
        'carvings',
        `${name}: its crossed grooves do not meet again at their other end, so it cannot be turned end for end`,
        'the piece as it is, or turns that bring whole steps',
      );
    made.push(piece);
  }
  const draft = checked(documentOf(made, pieces, wish, like, { diameter: DRAFT_NECK, width: 8 }));
  if (!draft.part) return draft;
  const resolved = resolvePart(draft.part);
  if (!resolved.job) return { problems: resolved.problems };
  // The grooves' width lengthens the stick and its length thickens the necks: twice round settles both.
  const saw = wish.saw ?? SAW;
  let neck = neckOf(resolved.job, saw);
  const longer = checked(documentOf(made, pieces, wish, like, neck));
  if (!longer.part) return longer;
  const again = resolvePart(longer.part);
  if (!again.job) return { problems: again.problems };
  neck = neckOf(again.job, saw);
  const problems: Problem[] = [];
  if (wish.neck !== undefined) {
    if (wish.neck < neck.diameter)
      problems.push({
        code: 'stub-too-thin',
        severity: 'warn',
        path: 'neck',
        message: `necks of ${wish.neck} mm were asked for: ${neck.why.slice(0, 2).join('; ')}`,
        allowed: `${neck.diameter} mm or more`,
      });
    neck = { ...neck, diameter: wish.neck };
  }
  const whole = checked(documentOf(made, pieces, wish, like, neck));
  if (!whole.part) return whole;
  problems.push(...leftAside(pieces));
  return { part: whole.part, pieces: placesOf(made, pieces, neck.width), neck, problems };
}

const checked = (
  raw: Record<string, unknown>,
): { part: Part; problems: Problem[] } | { part?: undefined; problems: Problem[] } => {
  const result = checkPart(raw);
  return 'part' in result ? { part: result.part, problems: [] } : { problems: result.problems };
};

/** What the solid of the stick leaves out of its pieces'. */
const leftAside = (pieces: readonly StickPiece[]): Problem[] =>
  pieces.some(({ part }) => part.solid.bore || part.solid.tenons.chuck || part.solid.tenons.tail)
    ? [
        {
          code: 'wrong-shape',
          severity: 'note',
          path: 'solid',
          message: 'bores and tenons are made after sawing, so the stick’s solid leaves them out',
          allowed: 'each piece’s own solid has them',
        },
      ]
    : [];

function placesOf(made: readonly Piece[], pieces: readonly StickPiece[], width: number): OnStick[] {
  let x = 0;
  return made.map((piece, k) => {
    const from = x;
    x += piece.length + width;
    return { name: pieces[k]!.name, from, to: from + piece.length, turned: pieces[k]!.turned === true };
  });
}

function documentOf(
  made: readonly Piece[],
  pieces: readonly StickPiece[],
  wish: StickWish,
  like: Part,
  neck: Pick<Neck, 'diameter' | 'width'>,
): Record<string, unknown> {
  const form: Element[] = [];
  const carvings: PlacedCarving[] = [];
  let x = 0;
  let wrung = 0;
  made.forEach((piece, k) => {
    if (k > 0) {
      form.push({ element: 'parting', length: neck.width, start: neck.diameter });
      x += neck.width;
    }
    form.push(...piece.form);
    for (const c of piece.carvings) {
      const moved = { ...c, from: x + c.from, to: x + c.to } as PlacedCarving;
      // What the twists of the pieces before it would turn is turned back.
      carvings.push(isWrung(c) && wrung !== 0 ? atAngle(moved, angleOf(c) - wrung) : moved);
    }
    wrung += wrungBy(piece);
    x += piece.length;
  });
  const { $schema: _schema, length: _length, girth: _girth, knobs: _knobs, carvings: _carvings, ...shared } = like;
  return {
    ...shared,
    name: wish.name,
    about: `${pieces.length} pieces on one stick, from the chuck: ${pieces.map((p) => p.name).join(', ')}`.slice(
      0,
      1000,
    ),
    // Composed in mm, whatever its pieces were written in.
    units: 'mm',
    form,
    ...(carvings.length ? { carvings } : {}),
    solid: { tolerance: like.solid.tolerance },
    blank: without(like.blank, 'length'),
    guard: pieces.some((p) => p.part.guard),
    notes: notesOf(made, pieces, neck).slice(0, 2000),
  };
}

const without = <T extends object>(value: T, key: keyof T): Partial<T> => {
  const { [key]: _out, ...rest } = value;
  return rest as Partial<T>;
};

function notesOf(
  made: readonly Piece[],
  pieces: readonly StickPiece[],
  neck: Pick<Neck, 'diameter' | 'width'>,
): string {
  const lines = placesOf(made, pieces, neck.width).map(
    (p, k) =>
      `${k + 1}. ${p.name}, x ${p.from.toFixed(1)} to ${p.to.toFixed(1)}${p.turned ? ', turned end for end' : ''}`,
  );
  return [`Saw at the ${neck.diameter} mm necks after the stick is out of the chuck.`, ...lines].join('\n');
}
