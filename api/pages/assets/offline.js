// Works with no signal: forms marked data-queue are kept on the device before they are sent, and what waits is sent
// when there is signal again. Without this file such a form is an ordinary one.
import { add, changed, entries, find, newKey, remove, sync } from "./queue.js";
import { formTo, showPage } from "./refill.js";

const usable = window.isSecureContext && "indexedDB" in window && "locks" in navigator;

function time() {
  return new Date().toISOString().replace(/\.\d+Z$/, "Z");
}

// A sum of what a form says, to know the same form sent twice from another one with its key.
async function contentOf(address, fields) {
  const said = fields.map((f) => (f.value instanceof Blob ? [f.name, f.file, f.value.size] : [f.name, f.value]));
  const sum = await crypto.subtle.digest("SHA-256", new TextEncoder().encode(JSON.stringify([address, said])));
  return Array.from(new Uint8Array(sum), (b) => b.toString(16).padStart(2, "0")).join("");
}

function labelOf(form, name) {
  const input = form.elements[name];
  const label = (input instanceof RadioNodeList ? input[0] : input)?.labels?.[0];
  return label ? label.textContent.replace("*", "").trim() : "";
}

// What is typed in a form, as an entry of the queue.
async function entryOf(form, button) {
  const address = button?.hasAttribute("formaction") ? button.formAction : form.action;
  const fields = [];
  let key = "";
  for (const [name, value] of new FormData(form, button)) {
    if (name === "key") key = value;
    else if (!(value instanceof File)) fields.push({ name, value, label: labelOf(form, name) });
    else if (value.size > 0 || value.name) fields.push({ name, value, file: value.name, label: labelOf(form, name) });
  }
  return {
    key: key || newKey(), address, fields, content: await contentOf(address, fields), deviceTime: time(), page: location.href,
    what: form.dataset.queue || document.querySelector("h1")?.textContent.trim() || document.title,
    where: document.querySelector(".top .where")?.textContent.trim() ?? "",
  };
}

// Keeps what a form says, sends what waits, and shows what became of it.
async function send(form, button) {
  if (form.dataset.sending) return;
  form.dataset.sending = "yes";
  try {
    const entry = await entryOf(form, button);
    rest(form, true);
    const before = await find(entry.key);
    if (before && before.content !== entry.content) entry.key = newKey(); // the page was kept, and its key was used
    if (!before || before.content !== entry.content || before.state === "refused") await add(entry, form.dataset.settles || (before?.state === "refused" ? before.key : ""));
    const answered = navigator.onLine && (await sync());
    const now = await find(entry.key);
    if (now && !now.state) return goTo(now.to || location.href);
    if (now?.state === "refused" && showPage(now.html, now)) return await takenUp(form, now);
    if (now?.state === "refused" || answered) return location.assign("/waiting");
    await waitFor(form, entry);
  } finally {
    delete form.dataset.sending;
    rest(form, false);
  }
}

// Goes to a page, and loads it anew also where it is another place on this one.
function goTo(address) {
  const to = new URL(address, location.href);
  if (to.pathname !== location.pathname || to.search !== location.search || !to.hash) return location.assign(to);
  location.hash = to.hash;
  location.reload();
}

// A form that was just refused is before the person's eyes, and is not kept. One that had waited stays kept until it is
// taken or dropped.
async function takenUp(form, entry) {
  if (!form.dataset.settles) return remove(entry.key);
  const again = formTo(document.querySelector("main"), entry);
  again.dataset.settles = entry.key;
  if (again.elements.key) again.elements.key.value = newKey();
}

function rest(form, resting) {
  for (const b of form.querySelectorAll("button:not([type=button])")) b.disabled = resting;
}

// Says that a form is kept, in the place of the form.
async function waitFor(form, entry) {
  const worker = await navigator.serviceWorker?.getRegistration();
  await worker?.sync?.register("waiting").catch(() => {}); // where the browser can wake us; else the next page sends
  const told = element("section", { className: "kept", tabIndex: -1 });
  told.setAttribute("role", "status");
  const again = element("button", { type: "button", className: "plain", textContent: "The same form again" });
  again.addEventListener("click", () => {
    const key = form.elements.key;
    if (key) key.value = newKey();
    delete form.dataset.settles;
    told.replaceWith(form);
    freshCodes();
    form.querySelector("input:not([type=hidden]), select, textarea")?.focus();
  });
  const log = document.querySelector('.sections a[href$="/log"]');
  const actions = element("p", { className: "actions" }, button(link("/waiting", "What is waiting")), again);
  if (log) actions.append(button(link(log.href, "Log something else")));
  told.append(element("p", { className: "flag", textContent: "No signal. Kept on this device." }),
    element("p", { textContent: `${entry.what}: it is sent by itself as soon as there is signal, also if this page is closed.` }), actions);
  told.dataset.key = entry.key;
  form.replaceWith(told);
  told.focus();
}

export function element(name, props, ...children) {
  const made = Object.assign(document.createElement(name), props);
  made.append(...children);
  return made;
}

function button(made) {
  made.className = "button plain";
  return made;
}

export function link(address, text) {
  return element("a", { href: address, textContent: text });
}

// A form that the device kept proposes a code that may be typed already in one that waits: the next free one is put in.
async function freshCodes() {
  const waiting = await entries();
  for (const input of document.querySelectorAll('form[data-queue] input[name="/code"]')) {
    const used = new Set(waiting.flatMap((e) => e.fields).filter((f) => f.name === "/code").map((f) => f.value));
    while (used.has(input.value) && /\d+$/.test(input.value)) input.value = input.value.replace(/\d+$/, (n) => String(Number(n) + 1));
  }
}

// The badge in the bar, and the notices of forms that were kept on this page.
async function show() {
  const all = await entries();
  for (const badge of document.querySelectorAll("[data-waiting]")) {
    badge.hidden = all.length === 0;
    badge.textContent = `waiting: ${all.length}`;
  }
  for (const told of document.querySelectorAll(".kept[data-key]")) {
    const now = await find(told.dataset.key);
    if (now && !now.state) told.replaceWith(element("p", { className: "good" }, "Sent. ", ...(now.to ? [link(now.to, now.what)] : [])));
  }
  return all.filter((e) => e.state === "waiting").length;
}

// Sends what waits now, and looks again later as long as something does.
let timer, pause = 5_000;
async function look() {
  clearTimeout(timer);
  let waits = await show();
  if (waits > 0 && navigator.onLine) {
    pause = (await sync()) ? 5_000 : Math.min(pause * 2, 120_000);
    waits = await show();
  }
  if (waits > 0) timer = setTimeout(look, pause);
}

// Says on a page that comes from the device how old it is, and lists what is kept where a page is not.
async function sayKept() {
  const since = document.documentElement.dataset.kept;
  if (since !== undefined) {
    const when = since && new Date(since).toLocaleString("en-GB", { day: "numeric", month: "short", hour: "2-digit", minute: "2-digit" });
    document.querySelector("main").prepend(element("p", { className: "kept-page", textContent: when ? `No signal. This page is as it was on ${when}.` : "No signal." }));
  }
  const list = document.querySelector("[data-kept-pages]");
  if (!list || !("caches" in window)) return;
  const kept = await (await caches.open("pages")).matchAll();
  for (const page of kept.filter((r) => r.headers.get("Kept-Title")).reverse().slice(0, 40)) {
    list.hidden = false;
    list.querySelector("ul").append(element("li", {}, link(page.url || page.headers.get("Kept-Address"), decodeURIComponent(page.headers.get("Kept-Title")))));
  }
}

async function startWorker() {
  if (!("serviceWorker" in navigator) || !window.isSecureContext) return;
  const first = navigator.serviceWorker.controller ? [] : [location.href]; // this page came before anybody could keep it
  await navigator.serviceWorker.register("/sw.js", { type: "module", scope: "/" });
  const { active } = await navigator.serviceWorker.ready;
  // The forms of the log are wanted most where there is no signal: they are kept before somebody opens them.
  const wanted = [...first, ...Array.from(document.querySelectorAll(".choices a, .choices-keep a"), (a) => a.href)];
  if (navigator.onLine && wanted.length > 0 && document.documentElement.dataset.kept === undefined) active.postMessage({ keep: wanted });
}

if (usable) {
  document.addEventListener("submit", (event) => {
    const form = event.target.closest("form[data-queue]");
    if (!form || (event.submitter?.getAttribute("formmethod") || form.method) !== "post") return;
    event.preventDefault();
    send(form, event.submitter);
  }, true);
  changed.addEventListener("message", show);
  window.addEventListener("online", () => { pause = 5_000; look(); });
  window.addEventListener("pageshow", (event) => { if (event.persisted) look(); });
  document.addEventListener("visibilitychange", () => { if (!document.hidden) look(); });
  look();
  if (document.documentElement.dataset.kept !== undefined) freshCodes();
}
sayKept();
startWorker();
