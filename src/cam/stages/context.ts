/** What the stages of one plan share: the job, what must stay, what is still there, and where the bit stands. */
import type { Bit } from '../../../shared/catalog.ts';
import type { Problem } from '../../../shared/problems.ts';
import type { Surface } from '../../profiles/field.ts';
import type { Contact } from '../contact.ts';
import { contactFor } from '../contact.ts';
import type { Job, Tool } from '../job.ts';
import type { Spot } from '../link.ts';
import type { Pass } from '../path.ts';
import { Wood } from '../wood.ts';
import { workSurface } from '../work.ts';

export interface StageContext {
  readonly job: Job;
  /** Form, stubs and untouched ends: nothing of it may be cut. */
  readonly work: Surface;
  /** What is there now; every stage applies its cuts, so that the next one knows. */
  readonly wood: Wood;
  /** Findings in the making; stages add to it. */
  readonly problems: Problem[];
  /** Where the last pass left the bit, lifted clear; undefined at the start of a program. */
  at: Spot | undefined;
  /** Contact kernel of a bit over `work`, one per bit. */
  contact(bit: Bit): Contact;
  /** Called now and then with a share 0…1 of the stage; may throw to stop. */
  progress(share: number, what: string): void;
}

/** One stage of the plan: makes its passes and applies them to `ctx.wood` and `ctx.at`. */
export type Stage = (ctx: StageContext, tool: Tool) => Pass[];

/** A fresh context: the whole blank stands. @param progress called with a share 0…1; may throw to stop */
export function stageContext(
  job: Job,
  progress: (share: number, what: string) => void = () => undefined,
): StageContext {
  const work = workSurface(job);
  const contacts = new Map<Bit, Contact>();
  return {
    job,
    work,
    wood: new Wood(job.blank),
    problems: [],
    at: undefined,
    contact: (bit) => {
      let c = contacts.get(bit);
      if (!c) {
        c = contactFor(work, bit);
        contacts.set(bit, c);
      }
      return c;
    },
    progress,
  };
}
