// The service worker: stores the whole app at install, answers from that store, and changes version only when the page asks.
import { route } from "./routes.ts";

declare const self: ServiceWorkerGlobalScope;
/** Paths of every file of this build, filled in by build/service_worker_plugin.ts. */
declare const __PRECACHE__: { version: string; hashed: string[]; named: string[] };

const PREFIX = "barnlight-app-";
const CACHE = PREFIX + __PRECACHE__.version;
const SHELL = "/index.html";
const precached = new Set([...__PRECACHE__.hashed, ...__PRECACHE__.named]);

/** A file whose name holds its hash can be taken over from the version before; any other is fetched past the browser's cache. */
async function store(cache: Cache, path: string, hashed: boolean): Promise<void> {
  const kept = hashed ? await caches.match(path) : undefined;
  const answer = kept ?? (await fetch(path, { cache: hashed ? "default" : "reload" }));
  if (!answer.ok || answer.redirected) throw new Error(`could not store ${path}: ${answer.status}`);
  await cache.put(path, answer);
}

async function install(): Promise<void> {
  const cache = await caches.open(CACHE);
  await Promise.all([
    ...__PRECACHE__.hashed.map((path) => store(cache, path, true)),
    ...__PRECACHE__.named.map((path) => store(cache, path, false)),
  ]);
}

/** Another tab may be in the middle of a pass with the version before: what it has not read yet must be there without a signal. */
async function activate(): Promise<void> {
  const before = (await caches.keys()).filter((name) => name.startsWith(PREFIX) && name !== CACHE);
  const tabs = await self.clients.matchAll({ type: "window", includeUncontrolled: true });
  const needed = tabs.length > 1 ? before.slice(-1) : [];
  await Promise.all(before.filter((name) => !needed.includes(name)).map((name) => caches.delete(name)));
  await self.clients.claim();
}

/** A file of the version before, or the network. */
async function earlier(path: string, request: Request): Promise<Response> {
  return (await caches.match(path)) ?? fetch(request);
}

/** The stored copy, or the network should the browser have thrown the store away. */
async function stored(path: string, request: Request): Promise<Response> {
  const cache = await caches.open(CACHE);
  return (await cache.match(path)) ?? fetch(request);
}

self.addEventListener("install", (event) => event.waitUntil(install()));
self.addEventListener("activate", (event) => event.waitUntil(activate()));

self.addEventListener("message", (event) => {
  if ((event.data as { type?: string } | null)?.type === "activate") void self.skipWaiting();
});

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const url = new URL(request.url);
  const from = route(
    { method: request.method, navigation: request.mode === "navigate", sameOrigin: url.origin === self.location.origin, path: url.pathname },
    precached,
  );
  if (from === "cached") event.respondWith(stored(url.pathname, request));
  if (from === "earlier") event.respondWith(earlier(url.pathname, request));
  if (from === "shell") event.respondWith(stored(SHELL, request));
});
