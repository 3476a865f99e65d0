/** Serves the built page to this machine alone. Files are held in memory: nothing else can be asked for. */
import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import { extname } from 'node:path';
import { SAFE_HEADERS } from './policy.ts';

const HOST = '127.0.0.1';

const TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.json': 'application/json; charset=utf-8',
  '.wasm': 'application/wasm',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.woff2': 'font/woff2',
};

/** Names under assets/ carry a hash of the content, so they never change; the rest is asked for anew each time. */
const caching = (name: string) => (name.startsWith('assets/') ? 'public, max-age=31536000, immutable' : 'no-cache');

/** The name that a request asks for; undefined if its address is no address. */
function nameOf(url: string): string | undefined {
  try {
    const path = decodeURIComponent(new URL(url, `http://${HOST}`).pathname).slice(1);
    return path === '' ? 'index.html' : path;
  } catch {
    return undefined;
  }
}

function answer(files: ReadonlyMap<string, Uint8Array>, request: IncomingMessage, response: ServerResponse): void {
  const say = (status: number, words: string, more: Record<string, string> = {}) =>
    response
      .writeHead(status, { ...SAFE_HEADERS, 'content-type': 'text/plain; charset=utf-8', ...more })
      .end(request.method === 'HEAD' ? undefined : `${words}\n`);
  if (request.method !== 'GET' && request.method !== 'HEAD') {
    say(405, 'This page is only read.', { allow: 'GET, HEAD' });
    return;
  }
  const name = nameOf(request.url ?? '/');
  const body = name === undefined ? undefined : files.get(name);
  if (name === undefined || body === undefined) {
    say(404, 'There is no such file here.');
    return;
  }
  response.writeHead(200, {
    ...SAFE_HEADERS,
    'content-type': TYPES[extname(name)] ?? 'application/octet-stream',
    'content-length': String(body.byteLength),
    'cache-control': caching(name),
  });
  response.end(request.method === 'HEAD' ? undefined : body);
}

function listen(server: Server, port: number): Promise<void> {
  return new Promise((done, fail) => {
    server.once('error', fail);
    server.listen(port, HOST, () => {
      server.off('error', fail);
      done();
    });
  });
}

export interface Served {
  /** Where the page is, with a slash at its end. */
  readonly address: string;
  readonly port: number;
  /** Stops serving and drops open connections. */
  close(): Promise<void>;
}

/**
 * @param files path → bytes, as `readPage` gives them
 * @param ports tried in this order until one is free; 0 stands for any free one
 * @throws Error of the system if none of the ports can be had
 */
export async function serve(files: ReadonlyMap<string, Uint8Array>, ports: readonly number[]): Promise<Served> {
  const server = createServer((request, response) => answer(files, request, response));
  for (const [i, wanted] of ports.entries()) {
    try {
      await listen(server, wanted);
      break;
    } catch (fault) {
      if ((fault as NodeJS.ErrnoException).code !== 'EADDRINUSE' || i === ports.length - 1) throw fault;
    }
  }
  const { port } = server.address() as AddressInfo;
  return {
    address: `http://${HOST}:${port}/`,
    port,
    close: () =>
      new Promise((done) => {
        server.close(() => done());
        server.closeAllConnections();
      }),
  };
}
