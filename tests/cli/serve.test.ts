import { mkdirSync, mkdtempSync, rmSync, utimesSync, writeFileSync } from 'node:fs';
import { request } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { hasScreen } from '../../src/cli/open-browser.ts';
import { isStale, readPage } from '../../src/cli/page-files.ts';
import { type Served, serve } from '../../src/cli/serve.ts';

const bytes = (text: string) => new TextEncoder().encode(text);
const files = new Map([
  ['index.html', bytes('<!doctype html><title>Page</title>')],
  ['assets/kernel-1a2b.wasm', Uint8Array.of(0, 0x61, 0x73, 0x6d)],
  ['assets/index-3c4d.js', bytes('export {};')],
  ['assets/page-5e6f.css', bytes('a{}')],
]);
let served: Served;
beforeAll(async () => {
  served = await serve(files, [0]);
});
afterAll(() => served.close());

/** Sends a path as it is written, which `fetch` would tidy first. @returns the status */
const raw = (path: string): Promise<number> =>
  new Promise((done, fail) => {
    request({ host: '127.0.0.1', port: served.port, path }, (answer) => {
      answer.resume();
      done(answer.statusCode ?? 0);
    })
      .on('error', fail)
      .end();
  });

describe('serving the page', () => {
  test('the address itself is the page, with or without a query', async () => {
    for (const path of ['', 'index.html', '?part=peg']) {
      const answer = await fetch(served.address + path);
      expect([answer.status, await answer.text()]).toEqual([200, '<!doctype html><title>Page</title>']);
    }
  });

  // Types as registered with IANA; WebAssembly is compiled while it streams only as application/wasm (WebAssembly Web API).
  test.each([
    ['', 'text/html; charset=utf-8', 'no-cache'],
    ['assets/kernel-1a2b.wasm', 'application/wasm', 'public, max-age=31536000, immutable'],
    ['assets/index-3c4d.js', 'text/javascript; charset=utf-8', 'public, max-age=31536000, immutable'],
    ['assets/page-5e6f.css', 'text/css; charset=utf-8', 'public, max-age=31536000, immutable'],
  ])('%s goes out as %s, kept as %s', async (path, type, kept) => {
    const { headers } = await fetch(served.address + path);
    expect([headers.get('content-type'), headers.get('cache-control')]).toEqual([type, kept]);
  });

  // Directive names and the meaning of 'none' and 'self': Content Security Policy Level 3.
  test('every answer, also a refusal, carries the policy', async () => {
    for (const path of ['', 'assets/index-3c4d.js', 'nothing/here']) {
      const { headers } = await fetch(served.address + path);
      const rules = new Map(
        headers
          .get('content-security-policy')!
          .split('; ')
          .map((rule) => [rule.split(' ')[0]!, rule.split(' ').slice(1)]),
      );
      for (const none of ['default-src', 'base-uri', 'form-action', 'frame-ancestors'])
        expect(rules.get(none), none).toEqual(["'none'"]);
      expect(rules.get('connect-src')).toEqual(["'self'"]);
      expect(rules.get('script-src')).toEqual(["'self'", "'wasm-unsafe-eval'"]);
      expect([...rules.values()].flat()).not.toContain("'unsafe-inline'");
      expect(headers.get('x-content-type-options')).toBe('nosniff');
      expect(headers.get('referrer-policy')).toBe('no-referrer');
    }
  });

  test.each(['/nothing', '/../package.json', '/%2e%2e/package.json', '/assets/../../package.json', '/%', '//'])(
    '%s is not there',
    async (path) => {
      expect(await raw(path)).toBe(404);
    },
  );

  test('HEAD tells the length and sends nothing; other methods are told off', async () => {
    const head = await fetch(served.address, { method: 'HEAD' });
    expect([head.headers.get('content-length'), await head.text()]).toEqual(['34', '']);
    const post = await fetch(served.address, { method: 'POST', body: 'x' });
    expect([post.status, post.headers.get('allow')]).toEqual([405, 'GET, HEAD']);
  });

  test('a port that is taken is passed over; if all are, that is a fault', async () => {
    const second = await serve(files, [served.port, 0]);
    expect(second.port).not.toBe(served.port);
    await second.close();
    await expect(serve(files, [served.port])).rejects.toThrow('EADDRINUSE');
  });
});

describe('whether to open a browser', () => {
  test.each([
    [{}, 'linux', false],
    [{ DISPLAY: ':0' }, 'linux', true],
    [{ WAYLAND_DISPLAY: 'wayland-0' }, 'linux', true],
    [{ DISPLAY: ':0', CI: 'true' }, 'linux', false],
    [{}, 'darwin', true],
    [{ CI: '1' }, 'win32', false],
  ] as const)('%o on %s: %s', (env, platform, wanted) => {
    expect(hasScreen(env, platform)).toBe(wanted);
  });
});

describe('the built page', () => {
  const root = mkdtempSync(join(tmpdir(), 'cavetto-page-'));
  afterAll(() => rmSync(root, { recursive: true, force: true }));
  const put = (path: string, second: number) => {
    mkdirSync(join(root, path, '..'), { recursive: true });
    writeFileSync(join(root, path), path);
    for (const touched of [join(root, path), join(root, path, '..')]) utimesSync(touched, second, second);
  };

  test('is stale when missing, and when a source or a folder of sources is younger', () => {
    put('src/ui/stage/a.ts', 1000);
    put('src/ui/a.ts', 1000);
    put('src/b.ts', 1000);
    expect(isStale(root)).toBe(true);
    put('dist/index.html', 2000);
    expect(isStale(root)).toBe(false);
    put('src/ui/stage/a.ts', 3000);
    expect(isStale(root)).toBe(true);
    put('src/ui/stage/a.ts', 1000);
    expect(isStale(root)).toBe(false);
    rmSync(join(root, 'src/ui/stage/a.ts'));
    expect(isStale(root)).toBe(true);
  });

  test('is read whole, by its paths', () => {
    put('dist/assets/deep/a.js', 2000);
    expect([...readPage(join(root, 'dist')).keys()].sort()).toEqual(['assets/deep/a.js', 'index.html']);
  });
});
