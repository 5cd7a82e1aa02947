// The page of what waits to be sent: in order, with what was typed; what was refused is settled here by a person.
import { changed, entries, newKey, remove, sent, sync } from "./queue.js";
import { element, link } from "./offline.js";
import { fill, formTo, showPage, words } from "./refill.js";

const list = document.querySelector("[data-waiting-entries]");

function when(deviceTime) {
  return new Date(deviceTime).toLocaleString("en-GB", { day: "numeric", month: "short", year: "numeric", hour: "2-digit", minute: "2-digit" });
}

function say(text) {
  const place = document.querySelector("[data-waiting-says]");
  if (place) place.textContent = text;
}

// What was typed, field by field; what nobody saw is left out.
function typed(entry) {
  const fields = element("dl", { className: "figures" });
  for (const f of entry.fields) {
    const value = f.value instanceof Blob ? `${f.file} (${Math.ceil(f.value.size / 1024)} KB)` : f.value;
    if (value !== "" && f.label) fields.append(element("div", {}, element("dt", { textContent: f.label }), element("dd", { textContent: value === "yes" ? "yes" : value })));
  }
  return element("details", { className: "group" }, element("summary", { textContent: "What was typed" }), fields);
}

// Opens the form again with everything in it: as the server sent it back, or else the page that it was typed on.
async function reopen(entry) {
  let form;
  const opened = () => { form = formTo(document.querySelector("main"), entry); return form; };
  if (!(entry.html && showPage(entry.html, entry) && opened())) {
    try {
      const answer = await fetch(entry.page, { headers: { Accept: "text/html" } });
      if (!showPage(await answer.text(), entry) || !opened()) throw new Error("no such form");
    } catch {
      say("The form cannot be opened now: its page is not there. What was typed stays here.");
      return;
    }
    fill(form, entry.fields);
  } else {
    fill(form, entry.fields.filter((f) => f.value instanceof Blob));
  }
  form.dataset.settles = entry.key;
  if (form.elements.key) form.elements.key.value = newKey();
}

function choices(entry) {
  const open = element("button", { type: "button", textContent: "Open it again" });
  open.addEventListener("click", () => reopen(entry));
  const drop = element("button", { type: "button", className: "danger", textContent: "Drop it for good" });
  drop.addEventListener("click", async () => { await remove(entry.key); await show(); say(`Dropped: ${entry.what}.`); });
  const sure = element("details", { className: "group" }, element("summary", { textContent: "Drop it" }),
    element("p", { textContent: "It is then nowhere: not in the register, not on this device." }), element("p", { className: "actions" }, drop));
  return entry.state === "refused" ? [element("p", { className: "actions" }, open), sure] : [sure];
}

function item(entry) {
  const refused = entry.state === "refused";
  const head = element("h2", { textContent: entry.what });
  const about = element("p", { className: "quiet", textContent: [entry.where, `typed ${when(entry.deviceTime)}`].filter(Boolean).join(", ") });
  const state = refused
    ? element("div", { className: "advice stop" }, element("p", { className: "flag", textContent: "Not taken. It stays here until you have settled it." }), element("p", { textContent: words(entry.html) }))
    : element("p", { textContent: "Waits for signal." });
  return element("li", {}, head, about, state, typed(entry), ...choices(entry));
}

let shown;
async function show() {
  if (!list.isConnected) return; // a form was opened in its place
  const [all, gone] = await Promise.all([entries(), sent()]);
  const now = all.map((e) => `${e.order} ${e.state}`).join();
  if (now !== shown) list.replaceChildren(...all.map(item)); // what is unfolded stays so while nothing changes
  shown = now;
  const refused = all.filter((e) => e.state === "refused").length;
  say(all.length === 0 ? "Nothing is waiting: everything was sent." : refused > 0 ? `${all.length} here, ${refused} to settle.` : `${all.length} waiting.`);
  document.querySelector("[data-waiting-send]").hidden = all.length === refused;
  const last = document.querySelector("[data-waiting-sent]");
  last.hidden = gone.length === 0;
  last.querySelector("ul").replaceChildren(...gone.map((e) => element("li", {}, element("p", {}, e.to ? link(e.to, e.what) : e.what),
    element("p", { className: "quiet", textContent: [e.where, `typed ${when(e.deviceTime)}`].filter(Boolean).join(", ") }))));
}

if (list) {
  changed.addEventListener("message", show);
  document.querySelector("[data-waiting-send] button").addEventListener("click", async () => {
    say("Sending.");
    const all = await sync();
    await show();
    if (!all) say("No answer: still no signal. Everything stays here.");
  });
  show();
}
