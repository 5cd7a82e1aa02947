// Shows a page of the server's inside this one, and fills a form in again with what was typed.

// Puts the main part of a page into this page and leads the reader to what it says. False where it holds no such form.
export function showPage(html, wants) {
  const page = new DOMParser().parseFromString(html, "text/html");
  const main = page.querySelector("main");
  if (!main || (wants && !formTo(main, wants))) return false;
  const here = document.querySelector("main");
  here.replaceChildren(...Array.from(main.childNodes, (n) => document.importNode(n, true)));
  document.title = page.title;
  window.htmx?.process(here);
  const told = here.querySelector("[role=alert], .wrong input, .wrong select, .wrong textarea, h1");
  if (told && !told.matches("input, select, textarea")) told.tabIndex = -1;
  told?.focus();
  told?.scrollIntoView({ block: "nearest" });
  return true;
}

// The form on a page that an entry was typed into: of those that go to its address, whatever the number of a step is now,
// the one that holds most of what was typed.
export function formTo(within, entry) {
  const place = (address) => new URL(address, location.origin).pathname.replace(/\/\d+(?=\/|$)/g, "/#");
  const fits = Array.from(within.querySelectorAll("form[data-queue]")).filter((f) => place(f.getAttribute("action") || location.href) === place(entry.address));
  const score = (form) => entry.fields.filter((f) => form.elements[f.name]?.value === f.value).length;
  return fits.sort((a, b) => score(b) - score(a))[0];
}

// Fills a form with fields as they were sent; files too, which no server can fill in. What nobody typed (the version that a
// page was read at) stays as the page has it now.
export function fill(form, fields) {
  const values = new Map();
  for (const f of fields) values.set(f.name, [...(values.get(f.name) ?? []), f]);
  for (const input of form.elements) {
    if (!input.name || input.type === "hidden" || input.type === "submit") continue;
    const given = values.get(input.name) ?? [];
    if (input.type === "checkbox" || input.type === "radio") {
      input.checked = given.some((f) => f.value === input.value);
    } else if (input.type === "file") {
      const files = new DataTransfer();
      for (const f of given) if (f.value instanceof Blob) files.items.add(new File([f.value], f.file, { type: f.value.type }));
      input.files = files.files;
    } else if (given.length > 0) {
      input.value = given.shift().value;
    }
    if (input.closest("details") && given.length > 0) input.closest("details").open = true;
  }
}

// What the server said against a form, in words.
export function words(html) {
  const page = new DOMParser().parseFromString(html, "text/html");
  const said = Array.from(page.querySelectorAll("main .wrong .fault, main [role=alert] li, main [role=alert] .advice p:first-child, main .words"), (n) => n.textContent.trim());
  return [...new Set(said)].filter(Boolean).join(" ") || page.querySelector("main h1")?.textContent.trim() || "";
}
