/** Whether blank, bits and material fit the bench, before anything is planned: each answer with its numbers and a way out. */
import type { Problem } from '../../shared/problems.ts';
import { bitFit } from './fit-bits.ts';
import { blankFit } from './fit-blank.ts';
import { cautionFit } from './fit-cautions.ts';
import { feedsFit } from './fit-feeds.ts';
import { holdingFit } from './fit-holding.ts';
import { reachFit } from './fit-reach.ts';
import { roomFit } from './fit-room.ts';
import { strengthFit } from './fit-strength.ts';
import type { Job } from './job.ts';

/** Everything that speaks against making this part on this bench, by subject. Cost: a few milliseconds, mostly strength's. */
export function checkFit(job: Job): Problem[] {
  return [
    ...blankFit(job),
    ...roomFit(job),
    ...holdingFit(job),
    ...bitFit(job),
    ...reachFit(job),
    ...feedsFit(job),
    ...strengthFit(job),
    ...cautionFit(job),
  ];
}
