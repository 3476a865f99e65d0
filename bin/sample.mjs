#!/usr/bin/env node
// The main job on the sample part: makes templates/stair-baluster.part.json into out/ and says where its files are.
import { fileURLToPath } from 'node:url';
import './register.mjs';

const { main } = await import('../src/cli/main.ts');
const at = (path) => fileURLToPath(new URL(path, import.meta.url));
const out = at('../out');
process.exitCode = await main(['make', at('../templates/stair-baluster.part.json'), '--out', out]);
if (process.exitCode === 0)
  console.log(`\nOpen ${out}/stair-baluster/stair-baluster.sheet.html in a browser to see what to do at the bench.`);
