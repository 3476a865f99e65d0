/** The cautions of the setup sheet: what every job of this kind needs said, and what this one does. */
import type { Job } from '../job.ts';

const FIRST_RUNS = { 'turn-test': 'turn test', 'air-run': 'air run' } as const;
type Run = { readonly name: keyof typeof FIRST_RUNS };

/** Before the spindle starts, in the order of doing. @param runs that come before the first cut; left out, both */
export function checks(job: Job, runs: readonly Run[] = [{ name: 'turn-test' }, { name: 'air-run' }]): string[] {
  const done = runs.map((r) => FIRST_RUNS[r.name]).join(' and ');
  return [
    'Chuck tight, chuck key out and laid away.',
    job.holding.tailstock
      ? 'Tailstock centre seated, quill locked; one turn by hand: nothing touches bed, guard or spindle.'
      : 'No tailstock on this job: one turn by hand, it runs true and touches nothing.',
    'Guards on; eyes and ears covered; no gloves, loose sleeves or rings; long hair tied.',
    'Extraction on, floor and bench clear.',
    'Bit’s stick-out as drawn, collet nut tight.',
    `Rotary sense checked; ${done ? `${done} done, ` : ''}${job.control.radial.letter}0 put back, a hand on the stop.`,
    ...hazard(job).before,
  ];
}

/** What to keep in mind while it runs and after. */
export function cautions(job: Job): string[] {
  const { material } = job;
  return [
    'The work turns without warning: hands, cloth and cables away until spindle and rotary stand still.',
    'Never unplug a motor under power: it ruins the drive and the work falls free.',
    ...(material.caution ? [`${material.label}: ${material.caution}`] : []),
    ...hazard(job).during,
    material.kind === 'metal'
      ? 'Metal chips are hot; metal and wood dust never share a collector.'
      : 'No metal chips into a wood dust collector: sparks smoulder. Look again half an hour after the last cut.',
    'A split, a knot or a loose centre throws the work. If the sound changes, stop.',
  ];
}

/** What a family of materials asks beyond the rest. */
function hazard(job: Job): { before: string[]; during: string[] } {
  const { material } = job;
  switch (material.kind) {
    case 'plastic':
      return {
        before: ['Sharp bit, first cuts watched: chips, no melt. Extraction to the outside, windows open.'],
        during: [
          'Plastic fume: smoke or a sharp smell means stop, air the room, less speed or a sharper bit. PVC gives off hydrogen chloride when hot, acrylic methacrylate vapour: do not breathe either.',
        ],
      };
    case 'metal':
      return {
        before: [
          'Every trace of wood dust out of machine, hoses and collector; dry sand or a class D extinguisher at hand, no water.',
        ],
        during: ['Chips and edges cut: brush and hook, never fingers, never while anything turns.'],
      };
    default:
      return {
        before: [],
        during: material.caution
          ? []
          : ['Wood dust is carcinogenic (IARC, group 1): extraction at the cut and a mask that fits.'],
      };
  }
}

export const GUARD_NOTE =
  'Guards or carries people: check the local building code (openings, heights, loads) with its authority; have a licensed person judge strength and fixing. Nothing here certifies them.';

/** How to find the centre of the stock's ends. */
export function centreText(job: Job): string {
  const { section, sides, bore } = job.blank;
  if (bore) return 'A tube has no middle to prick: jaws and a cone at the tailstock must run true in its bore.';
  if (section === 'round')
    return 'Mark the centre of both ends with a centre square: draw two lines a quarter turn apart; they cross in the centre. Prick it with an awl.';
  if (section === 'polygon' && sides % 2)
    return 'On both ends draw from every corner to the middle of the flat across; the lines cross in the centre. Prick it with an awl.';
  return 'On both ends draw the diagonals from corner to corner; they cross in the centre. Prick it with an awl, and drill a small dimple for the tailstock’s point.';
}
