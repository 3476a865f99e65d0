/** The cautions of the setup sheet: what every job of this kind needs said, and what this one does. */
import type { Job } from '../job.ts';

/** Before the spindle starts, in the order of doing. */
export function checks(job: Job): string[] {
  return [
    'Chuck tight, chuck key out and laid away.',
    job.holding.tailstock
      ? 'Tailstock centre seated in its mark, quill locked; turn the work a whole turn by hand: nothing touches bed, guard or spindle.'
      : 'No tailstock on this job: turn the work a whole turn by hand and see that it runs true and touches nothing.',
    'Guards in place; eyes and ears covered; no gloves, no loose sleeves, no rings; long hair tied.',
    'Extraction on, floor and bench clear.',
    'Bit in its collet with the stick-out of the table, collet nut tight.',
    'Rotary sense checked (see above).',
    'First pass in air: radial zero set a safe height above the work, a hand on the stop.',
  ];
}

/** What to keep in mind while it runs and after. */
export function cautions(job: Job): string[] {
  const { material } = job;
  const metal = material.kind === 'metal';
  return [
    'The work turns without warning. Keep hands, cloth and cables away until spindle and rotary both stand still.',
    'Never unplug a motor under power: it ruins the drive and the work falls free.',
    ...(material.caution ? [`${material.label}: ${material.caution}`] : []),
    'Dust and fume: extraction at the cut and a mask that fits. Wood dust is carcinogenic (IARC, group 1); do not machine PVC without need, it gives off hydrogen chloride when hot; acrylic gives off methacrylate vapour.',
    metal
      ? 'Metal chips are hot: clear every trace of wood dust from machine and extraction first. Metal and wood dust never share a collector.'
      : 'Never let metal chips into a wood dust collector; a spark smoulders for hours. Look again half an hour after the last cut.',
    'A split, a knot or a loose centre throws the work. If the sound changes, stop.',
  ];
}

export const GUARD_NOTE =
  'This part guards or carries people. Check the local building code (openings, heights, loads) with the authority that has the say, and have a licensed person judge strength and fixing. This program does not certify strength.';

/** How to find the centre of the stock's ends. */
export function centreText(job: Job): string {
  const { section, sides } = job.blank;
  if (section === 'round')
    return 'Mark the centre of both ends with a centre square: draw two lines a quarter turn apart; they cross in the centre. Prick it with an awl.';
  if (section === 'polygon' && sides % 2)
    return 'On both ends draw from every corner to the middle of the flat across; the lines cross in the centre. Prick it with an awl.';
  return 'On both ends draw the diagonals from corner to corner; they cross in the centre. Prick it with an awl, and drill a small dimple for the tailstock’s point.';
}
