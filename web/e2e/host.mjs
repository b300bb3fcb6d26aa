// A folder that was built, served as a host of files would.
import http from 'node:http';
import { once } from 'node:events';
import { existsSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { extname, join, normalize } from 'node:path';

const TYPES = { '.html': 'text/html; charset=utf-8', '.js': 'text/javascript', '.css': 'text/css', '.wasm': 'application/wasm',
  '.svg': 'image/svg+xml', '.png': 'image/png', '.webmanifest': 'application/manifest+json', '.txt': 'text/plain; charset=utf-8' };

// host serves a folder; instead(name) may return what stands for a file of it.
// Another folder may take its place, and while it is away it answers nothing.
// sent is how many bytes of files it sent. What stands for a file is answered
// always, and what a page posts goes to told.
export async function host(folder, instead = () => null) {
  const site = { folder, away: false, sent: 0, told: () => {} };
  const server = http.createServer(async (request, response) => {
    if (request.method === 'POST') {
      let body = '';
      for await (const part of request) body += part;
      site.told(JSON.parse(body));
      return response.writeHead(204).end();
    }
    let name = normalize(new URL(request.url, 'http://x/').pathname);
    if (name === '/') name = '/index.html';
    const file = join(site.folder, name), other = instead(name);
    if (site.away && !name.startsWith('/__')) return response.destroy();
    if (other === null && !existsSync(file)) return response.writeHead(404).end();
    const packed = other === null && existsSync(file + '.br');
    response.writeHead(200, {
      'Content-Type': TYPES[extname(name)] ?? 'application/octet-stream', ...packed && { 'Content-Encoding': 'br' },
      'Cache-Control': /-[0-9a-f]{8,}\./.test(name) ? 'public, max-age=31536000, immutable' : 'no-cache',
      'Cross-Origin-Opener-Policy': 'same-origin', 'Cross-Origin-Embedder-Policy': 'require-corp',
    });
    const body = other ?? await readFile(packed ? file + '.br' : file);
    site.sent += body.length;
    response.end(body);
  });
  server.listen(0, '127.0.0.1');
  await once(server, 'listening');
  return Object.assign(site, { url: `http://127.0.0.1:${server.address().port}/`, close() { server.closeAllConnections(); server.close(); } });
}
