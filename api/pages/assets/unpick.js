// What a server cannot do by itself. Everything works without this file.

// A form is sent once: its buttons rest while it is under way.
document.addEventListener("submit", (event) => {
  if (event.defaultPrevented) return;
  for (const button of event.target.querySelectorAll("button:not([type=button])")) setTimeout(() => { button.disabled = true; });
});
window.addEventListener("pageshow", (event) => {
  if (event.persisted) for (const button of document.querySelectorAll("button:disabled")) button.disabled = false;
});

// The server draws for the width of the screen.
document.cookie = `width=${Math.round(document.documentElement.clientWidth - 32)}; path=/; max-age=31536000; samesite=lax`;
