/** A small job around any field: a bench, a control, a maple blank, two bits. */
import { benches, bits, controls, materials } from '../../shared/catalog.ts';
import { CLEARANCE } from '../../shared/tolerances.ts';
import { type Blank, outerRadius } from '../../src/cam/blank.ts';
import { limitsFor } from '../../src/cam/feeds.ts';
import type { Job, Tool } from '../../src/cam/job.ts';
import type { Pass, StageName } from '../../src/cam/path.ts';
import { MoveBuilder } from '../../src/cam/path.ts';
import type { Field } from '../../src/profiles/field.ts';

export const row = <T extends { id: string }>(rows: readonly T[], id: string): T => {
  const found = rows.find((r) => r.id === id);
  if (!found) throw new Error(`no row ${id}`);
  return found;
};

interface Wishes {
  control?: string;
  bench?: string;
  material?: string;
  roughing?: string;
  finishing?: string;
  side?: number;
  /** Replaces parts of the finished job. */
  with?: Partial<Job>;
}

export function jobFor(field: Field, wishes: Wishes = {}): Job {
  const bench = row(benches, wishes.bench ?? 'middle');
  const material = row(materials, wishes.material ?? 'sugar-maple');
  const side = wishes.side ?? Math.ceil(2 * field.maxRadius + 2);
  const blank: Blank = {
    section: 'square',
    width: side,
    height: side,
    sides: 4,
    from: -30,
    to: field.length + 15,
  };
  const tool = (id: string): Tool => {
    const bit = row(bits, id);
    return { bit, limits: limitsFor(bit, material, bench, { radius: outerRadius(blank) }) };
  };
  return {
    name: 'Boathouse peg',
    field,
    blank,
    holding: { chuckGrip: 20, chuckStub: 10, tailStub: 15, tailstock: true },
    stubs: {
      chuck: { from: -10, to: 0, radius: 8 },
      tail: { from: field.length, to: field.length + 15, radius: 6 },
    },
    keepOut: [{ from: -60, to: -12, radius: 50, what: 'chuck' }],
    material,
    bench,
    control: row(controls, wishes.control ?? 'four-axis-inverse-time'),
    tools: {
      roughing: tool(wishes.roughing ?? 'flat-6'),
      finishing: tool(wishes.finishing ?? 'ball-6'),
      detail: [],
      drills: [],
    },
    plan: {
      corners: 'auto',
      roughing: 'auto',
      finishing: 'spiral',
      necking: false,
      allowance: 0.4,
      scallop: 0.02,
    },
    tolerance: 0.03,
    safeRadius: outerRadius(blank) + CLEARANCE,
    ...wishes.with,
  };
}

/** A pass from rows: [kind, x, r, θ, feed]. */
export function passOf(stage: StageName, label: string, rows: readonly (readonly number[])[]): Pass {
  const moves = new MoveBuilder();
  for (const [kind, x, r, theta, feed] of rows) moves.add(kind as 0 | 1 | 2, x!, r!, theta!, feed ?? 0);
  return { stage, label, moves: moves.moves() };
}
