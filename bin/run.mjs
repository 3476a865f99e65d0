#!/usr/bin/env node
// Runs one TypeScript file of this project: node bin/run.mjs FILE ARGS…
import { resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import './register.mjs';

const [file, ...rest] = process.argv.slice(2);
process.argv = [process.argv[0], file, ...rest];
await import(pathToFileURL(resolve(file)).href);
