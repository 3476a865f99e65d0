/** What the paths ask of a contact kernel: heights alone. A level or a limit can stand in for a bit over the work. */
import type { Contact } from './contact.ts';

export type Heights = Pick<Contact, 'lowest' | 'along'>;
