#!/usr/bin/env node
// Serves the workshop page to this machine: builds it if its sources changed, prints its address, opens a browser.
import { fileURLToPath } from 'node:url';
import './register.mjs';

const { start } = await import('../src/cli/start.ts');
process.exitCode = await start(process.argv.slice(2), fileURLToPath(new URL('..', import.meta.url)));
