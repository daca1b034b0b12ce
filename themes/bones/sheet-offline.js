// A sheet that came from a web host is kept by the browser, so that it opens again at a kettle without a network. One from disk
// needs no keeping, and a browser that offers none does without.
"use strict";

const SheetOffline = async (whenKept) => {
  if (!location.protocol.startsWith("http") || !navigator.serviceWorker) return;
  const loaded = [...document.querySelectorAll("script[src], link[rel=stylesheet]")].map(({ src, href }) => src || href);
  try {
    await navigator.serviceWorker.register(new URL("../offline.js", location.href));
    const { active } = await navigator.serviceWorker.ready;
    active.postMessage([location.origin + location.pathname, ...loaded]);
    whenKept();
  } catch {
    // then it opens with a network only
  }
};
