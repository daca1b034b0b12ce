// Keeps the working sheets that were opened, with what they load, so that they open again where there is no network. Whatever can be
// fetched is: what is kept is only shown where nothing answers. It lies at the site's root, for it may speak for no page above itself.
"use strict";

const KEPT = "working-sheets";

const keep = async (addresses) => {
  const cache = await caches.open(KEPT);
  const ours = addresses.filter((address) => new URL(address).origin === location.origin);
  await Promise.all(
    ours.map(async (address) => {
      const found = await fetch(address, { cache: "no-cache" });
      if (found.ok) await cache.put(address, found);
    }),
  );
};

const answer = async (request) => {
  try {
    return await fetch(request);
  } catch (unreachable) {
    const found = await caches.match(request, { ignoreSearch: true });
    if (found) return found;
    throw unreachable;
  }
};

addEventListener("install", () => skipWaiting());
addEventListener("activate", (event) => event.waitUntil(clients.claim()));
addEventListener("message", (event) => event.waitUntil(keep(event.data)));
addEventListener("fetch", (event) => {
  const { method, destination } = event.request;
  if (method === "GET" && ["document", "script", "style"].includes(destination)) event.respondWith(answer(event.request));
});
