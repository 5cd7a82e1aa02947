// The service worker: pages come from the server, and from the device where the server gives no answer. The lines above
// this one, which the server writes, name the version, the files that belong to it, and the queue.

const files = `files-${version}`;
const pages = "pages";
const mostPages = 120;
const mostBytes = 30_000_000; // of all pages together
const patience = 8_000; // milliseconds until a page that is kept is shown instead
const own = ["/offline", "/waiting"];

addEventListener("install", (event) => {
  event.waitUntil((async () => {
    const cache = await caches.open(files);
    await cache.addAll([...shell, ...own]);
    await skipWaiting();
  })());
});

addEventListener("activate", (event) => {
  event.waitUntil((async () => {
    for (const name of await caches.keys()) if (name.startsWith("files-") && name !== files) await caches.delete(name);
    await clients.claim();
  })());
});

addEventListener("fetch", (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== location.origin) return;
  if (url.pathname.startsWith("/assets/")) event.respondWith(file(request, url));
  else if (isPage(url) && !request.headers.has("HX-Request")) event.respondWith(page(event, url));
});

// Pages only: never the API, never what is loaded once in a life.
function isPage(url) {
  return url.pathname === "/" || url.pathname === "/you" || url.pathname.startsWith("/f/") || own.includes(url.pathname);
}

// A file of this version; a page kept by an older one gets the file of the same name.
async function file(request, url) {
  const cache = await caches.open(files);
  const kept = await cache.match(request);
  if (kept) return kept;
  try {
    const answer = await fetch(request);
    if (answer.ok) return answer;
  } catch { /* the next lines answer */ }
  const name = url.pathname.split("/").pop();
  const same = shell.find((address) => address.endsWith(`/${name}`));
  return (same && (await cache.match(same))) || Response.error();
}

async function page(event, url) {
  const { request } = event;
  const kept = await (await caches.open(pages)).match(request, { ignoreVary: true });
  try {
    const answer = await inTime(fetch(request), kept ? patience : 0);
    if (kept && [502, 503, 504].includes(answer.status)) return asKept(kept);
    if (keepable(answer, url)) event.waitUntil(keep(request, answer.clone()));
    return answer;
  } catch {
    if (kept) return asKept(kept);
    const cache = await caches.open(files);
    if (own.includes(url.pathname)) return asKept(await cache.match(url.pathname, { ignoreVary: true }));
    if (request.mode === "navigate") return asKept(await cache.match("/offline", { ignoreVary: true }));
    return Response.error();
  }
}

function inTime(promise, milliseconds) {
  if (!milliseconds) return promise;
  promise.catch(() => {}); // it may fail after nobody waits for it any more
  return Promise.race([promise, new Promise((_, late) => setTimeout(() => late(new Error("late")), milliseconds))]);
}

// What is half typed in an address, and what the server wants kept nowhere, is not kept.
function keepable(answer, url) {
  const type = answer.headers.get("Content-Type") ?? "";
  return answer.status === 200 && answer.type === "basic" && !answer.redirected && !url.searchParams.has("key") && !own.includes(url.pathname) &&
    /^(text\/html|image\/)/.test(type) && !/no-store/.test(answer.headers.get("Cache-Control") ?? "");
}

async function keep(request, answer) {
  const body = await answer.blob();
  if (body.size > mostBytes / 10) return;
  const headers = new Headers(answer.headers);
  headers.delete("Content-Encoding"); // the body here is unpacked
  headers.delete("Content-Length");
  headers.set("Kept-At", new Date().toISOString());
  headers.set("Kept-Size", String(body.size));
  headers.set("Kept-Address", request.url);
  const title = /<title>([^<]*)<\/title>/.exec(body.type.startsWith("text/html") ? await body.text() : "");
  if (title) headers.set("Kept-Title", encodeURIComponent(title[1].replace(" – unpick", "").replace(/&#39;/g, "'").replace(/&#34;/g, '"').replace(/&amp;/g, "&")));
  const cache = await caches.open(pages);
  await cache.delete(request, { ignoreVary: true }); // put again, it is the youngest
  await cache.put(request, new Response(body, { status: answer.status, headers }));
  await bound(cache);
}

// Drops the oldest until what is left is few and small enough.
async function bound(cache) {
  const all = await cache.keys();
  const sizes = await Promise.all(all.map(async (r) => Number((await cache.match(r, { ignoreVary: true }))?.headers.get("Kept-Size") ?? 0)));
  let bytes = sizes.reduce((a, b) => a + b, 0);
  for (let i = 0; i < all.length && (all.length - i > mostPages || bytes > mostBytes); i++) {
    bytes -= sizes[i];
    await cache.delete(all[i], { ignoreVary: true });
  }
}

// A page from the device says that it is one, and its forms carry keys that were never used.
async function asKept(kept) {
  if (!(kept.headers.get("Content-Type") ?? "").startsWith("text/html")) return kept;
  const text = (await kept.clone().text())
    .replace("<html ", `<html data-kept="${kept.headers.get("Kept-At") ?? ""}" `)
    .replace(/(<input type="hidden" name="key" value=")[^"]*"/g, () => `<input type="hidden" name="key" value="${newKey()}"`);
  return new Response(text, { status: 200, headers: kept.headers });
}

addEventListener("message", (event) => {
  if (!Array.isArray(event.data?.keep)) return;
  event.waitUntil((async () => {
    const cache = await caches.open(pages);
    for (const address of event.data.keep.slice(0, 30)) {
      const url = new URL(address);
      if (url.origin !== location.origin || !isPage(url)) continue;
      const had = await cache.match(address, { ignoreVary: true });
      if (had && Date.now() - Date.parse(had.headers.get("Kept-At")) < 3_600_000) continue;
      try {
        const request = new Request(address, { headers: { Accept: "text/html" } });
        const answer = await fetch(request);
        if (keepable(answer, url)) await keep(request, answer);
      } catch { return; }
    }
  })());
});

// The browser wakes us when there is signal, also where no page is open; it tries again later when this fails.
addEventListener("sync", (event) => {
  event.waitUntil(sync().then((all) => { if (!all) throw new Error("no answer yet"); }));
});
