/**
 * Stands in for 'zod' in everything that is bundled for the page (vite.config.ts), so that it runs before any schema is made:
 * the library would else turn schemas into code by eval, and merely asking whether it may breaks the page's policy.
 */
import { config } from 'zod/v4';

config({ jitless: true });

export * from 'zod/v4';
