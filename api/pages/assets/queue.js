// The queue of what was sent from this device: kept in the browser's own store before it is sent, sent one by one in
// order, and taken out only when the server has answered. Pages and the service worker use it; neither has it alone.

const database = "unpick";
const mostSent = 20; // how many of those sent are remembered, to say where they went
const refusedHtml = 2_000_000; // characters of an answer that are kept, at most

// Told of every change to the queue, in this tab and in all others.
export const changed = new BroadcastChannel("unpick-queue");
function tell(what) {
  changed.postMessage(what); // reaches the others only
  changed.dispatchEvent(new MessageEvent("message", { data: what }));
}

// A UUID of version 7 (RFC 9562): the time in milliseconds, then chance.
export function newKey() {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  let time = Date.now();
  for (let i = 5; i >= 0; i--, time = Math.floor(time / 256)) bytes[i] = time % 256;
  bytes[6] = (bytes[6] & 0x0f) | 0x70;
  bytes[8] = (bytes[8] & 0x3f) | 0x80;
  const hex = Array.from(bytes, (b) => b.toString(16).padStart(2, "0")).join("");
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join("-");
}

let opened;
function open() {
  opened ??= new Promise((resolve, reject) => {
    const request = indexedDB.open(database, 1);
    request.onupgradeneeded = () => {
      for (const name of ["entries", "sent"]) {
        request.result.createObjectStore(name, { keyPath: "order", autoIncrement: true }).createIndex("key", "key", { unique: true });
      }
    };
    request.onsuccess = () => {
      request.result.onversionchange = () => { request.result.close(); opened = undefined; };
      resolve(request.result);
    };
    request.onerror = () => { opened = undefined; reject(request.error); };
  });
  return opened;
}

// Runs work in one transaction over both stores and answers what it answered, once all of it is on the disk.
async function inStore(mode, work) {
  const db = await open();
  return new Promise((resolve, reject) => {
    const transaction = db.transaction(["entries", "sent"], mode, { durability: "strict" });
    let answer;
    const ask = (request) => new Promise((ok) => { request.onsuccess = () => ok(request.result); });
    transaction.oncomplete = () => resolve(answer);
    transaction.onabort = transaction.onerror = () => reject(transaction.error);
    Promise.resolve(work(transaction.objectStore("entries"), transaction.objectStore("sent"), ask)).then((a) => { answer = a; }, reject);
  });
}

// Everything that waits, or was refused and is not settled, in order.
export const entries = () => inStore("readonly", (all, _, ask) => ask(all.getAll()));

// The last that were sent, the newest first.
export const sent = () => inStore("readonly", async (_, done, ask) => (await ask(done.getAll())).reverse());

// What became of a key: an entry, a record of its sending, or nothing.
export const find = (key) => inStore("readonly", async (all, done, ask) =>
  (await ask(all.index("key").get(key))) ?? (await ask(done.index("key").get(key))));

// Keeps an entry at the end of the queue. Where it settles one that was refused, that one goes.
export async function add(entry, settles) {
  await inStore("readwrite", async (all, _, ask) => {
    const old = settles && (await ask(all.index("key").getKey(settles)));
    if (old) all.delete(old);
    all.add({ ...entry, state: "waiting" });
  });
  tell("added");
}

// Takes an entry out: because a person said so, or has the answer on the screen.
export async function remove(key) {
  await inStore("readwrite", async (all, _, ask) => {
    const old = await ask(all.index("key").getKey(key));
    if (old) all.delete(old);
  });
  tell("removed");
}

function request(entry) {
  const files = entry.fields.some((f) => f.value instanceof Blob);
  const body = files ? new FormData() : new URLSearchParams();
  for (const f of entry.fields) {
    if (f.value instanceof Blob) body.append(f.name, f.value, f.file);
    else body.append(f.name, f.value);
  }
  return new Request(entry.address, {
    method: "POST", body, signal: AbortSignal.timeout(files ? 180_000 : 30_000),
    headers: { "Accept": "text/html", "Device-Time": entry.deviceTime, "Idempotency-Key": entry.key, "Prefer": "return=minimal" },
  });
}

// What a proxy says for a server that it does not reach, or "later": no answer to the form.
const later = [408, 425, 429, 502, 503, 504];

async function next() {
  return (await entries()).find((e) => e.state === "waiting");
}

// Sends what waits, in order, one at a time in all tabs together, and stops at the first that gets no answer: then it
// answers false. A key makes each be done once, also where an answer was lost on the way.
export function sync() {
  return navigator.locks.request("unpick-queue", async () => {
    for (let entry = await next(); entry; entry = await next()) {
      let answer, html = "";
      try {
        answer = await fetch(request(entry));
        if (!answer.ok) html = (await answer.text()).slice(0, refusedHtml);
      } catch {
        return false;
      }
      if (later.includes(answer.status)) return false;
      if (answer.ok) await taken(entry, answer);
      else await refused(entry, answer.status, html);
    }
    return true;
  });
}

async function taken(entry, answer) {
  const to = answer.headers.get("Location") ?? (answer.redirected ? answer.url : "");
  await inStore("readwrite", async (all, done, ask) => {
    all.delete(entry.order);
    done.add({ key: entry.key, content: entry.content, what: entry.what, where: entry.where, deviceTime: entry.deviceTime, to });
    const old = await ask(done.getAllKeys());
    for (const order of old.slice(0, -mostSent)) done.delete(order);
  });
  tell("sent");
}

async function refused(entry, status, html) {
  await inStore("readwrite", async (all, _, ask) => {
    if (await ask(all.get(entry.order))) all.put({ ...entry, state: "refused", status, html });
  });
  tell("refused");
}
