// The key / leads to the search, unless a reader said on the search page that it shall not.
"use strict";

// Who is led to something that opens finds it open.
(() => {
  const open = () => {
    const led = document.getElementById(decodeURIComponent(location.hash.slice(1)));
    if (led instanceof HTMLDetailsElement) led.open = true;
  };
  addEventListener("hashchange", open);
  open();
})();

(() => {
  const SETTING = "journal-slash";

  const read = () => {
    try {
      return localStorage.getItem(SETTING) !== "off";
    } catch {
      return true; // a browser that keeps nothing
    }
  };

  const keep = (on) => {
    try {
      localStorage.setItem(SETTING, on ? "on" : "off");
    } catch {
      // then it holds until the page is left
    }
  };

  let on = read();
  const box = document.getElementById("slash");
  if (box) {
    box.checked = on;
    box.addEventListener("change", () => keep((on = box.checked)));
    document.getElementById("shortcut").hidden = false;
  }

  document.addEventListener("keydown", (event) => {
    if (!on || event.key !== "/" || event.ctrlKey || event.altKey || event.metaKey) return;
    if (event.target.closest("input, textarea, select, [contenteditable]")) return;
    const field = document.getElementById("words");
    const link = document.querySelector('a[rel="search"]');
    if (!field && !link) return;
    event.preventDefault();
    if (field) field.focus();
    else location.assign(link.href);
  });
})();
