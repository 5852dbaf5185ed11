// The service worker. It keeps the shell of the log and the static files, and
// nothing else: no page with anything of a person in it is ever stored. VERSION
// and FILES stand above, written by the server.

const CACHE = `brae-${VERSION}`;
const SHELL = "/offline";

async function shell() {
  const answer = await fetch(SHELL, { redirect: "error" });
  if (!answer.ok) throw new Error(`the shell: ${answer.status}`);
  await (await caches.open(CACHE)).put(SHELL, answer);
}

addEventListener("install", (event) => event.waitUntil((async () => {
  await (await caches.open(CACHE)).addAll(FILES);
  await shell();
  await skipWaiting();
})()));

addEventListener("activate", (event) => event.waitUntil((async () => {
  for (const name of await caches.keys()) if (name !== CACHE) await caches.delete(name);
  await clients.claim();
})()));

addEventListener("fetch", (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== location.origin) return;
  if (request.mode === "navigate") event.respondWith(page(request));
  else if (FILES.includes(url.pathname)) event.respondWith(kept(url.pathname).then((found) => found ?? fetch(request)));
});

const kept = (path) => caches.match(path, { ignoreVary: true });

// page asks the network, which may be there in name only, and falls back to the
// shell if somebody's log is kept on this phone.
async function page(request) {
  try {
    return await Promise.race([fetch(request), new Promise((_, late) => setTimeout(() => late(new Error("no answer")), 12_000))]);
  } catch (error) {
    const found = await theKit().catch(() => undefined) && await kept(SHELL);
    if (found) return found;
    throw error;
  }
}

addEventListener("sync", (event) => event.waitUntil((async () => {
  const kit = await theKit();
  if (!kit) return;
  const done = await flush(kit.account);
  for (const page of await clients.matchAll()) page.postMessage("sent");
  if (done.again) throw new Error("not now"); // the browser tries again
})()));

// A page has heard that the shell has changed.
addEventListener("message", (event) => { if (event.data === "shell") event.waitUntil(shell()); });
