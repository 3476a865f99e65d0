/**
 * Comes before every schema: the schema library would else turn schemas into code by eval, and merely asking whether it may
 * breaks the page's content security policy.
 */
import { config } from 'zod';

config({ jitless: true });
