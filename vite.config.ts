import { createHash } from 'node:crypto';
import { readFileSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import react from '@vitejs/plugin-react';
import { defineConfig, type Plugin } from 'vite';
import { PAGE_POLICY } from './src/cli/policy.ts';
import { programHash } from './src/cli/program-hash.ts';

const ui = resolve(import.meta.dirname, 'src/ui');
const SERVICE_WORKER = 'service-worker.js';

/** The built page carries its policy; the development server's own scripts would break it. */
const policy = (): Plugin => ({
  name: 'policy',
  apply: 'build',
  transformIndexHtml: () => [
    {
      tag: 'meta',
      attrs: { 'http-equiv': 'Content-Security-Policy', content: PAGE_POLICY },
      injectTo: 'head-prepend',
    },
  ],
});

/** Writes into the service worker which files the page is made of, and a hash of them all. */
const pageList = (): Plugin => ({
  name: 'page-list',
  apply: 'build',
  writeBundle({ dir }, bundle) {
    const names = Object.keys(bundle)
      .filter((name) => name !== SERVICE_WORKER)
      .sort();
    const hash = createHash('sha256');
    for (const name of names) hash.update(name).update(readFileSync(join(dir!, name)));
    const file = join(dir!, SERVICE_WORKER);
    const text = readFileSync(file, 'utf8')
      .replaceAll('__PAGE_HASH__', JSON.stringify(hash.digest('hex').slice(0, 16)))
      .replaceAll('__PAGE_FILES__', JSON.stringify(names));
    writeFileSync(file, text);
  },
});

export default defineConfig({
  root: ui,
  base: './',
  resolve: { alias: [{ find: /^zod$/, replacement: join(ui, 'no-eval.ts') }] },
  define: {
    __PROGRAM_HASH__: JSON.stringify(programHash()),
    __PAGE_SOURCES__: JSON.stringify(programHash(['package.json', 'shared', 'src'])),
  },
  plugins: [react(), policy(), pageList()],
  worker: { format: 'es' },
  build: {
    outDir: '../../dist',
    emptyOutDir: true,
    target: 'es2023',
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    rolldownOptions: {
      input: { index: join(ui, 'index.html'), 'service-worker': join(ui, 'offline/service-worker.ts') },
      output: {
        entryFileNames: ({ name }) => (name === 'service-worker' ? SERVICE_WORKER : 'assets/[name]-[hash].js'),
      },
    },
  },
});
