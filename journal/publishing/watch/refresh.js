// Refreshes the page when it, or what is wrong with the journal, has changed; the reader stays where they were.
(() => {
  "use strict";
  const script = document.currentScript;
  const here = script.dataset.page;
  const troubles = script.dataset.troubles;
  const kept = `scroll ${here}`;
  const place = sessionStorage.getItem(kept);
  if (place !== null) {
    sessionStorage.removeItem(kept);
    addEventListener("load", () => scrollTo(0, Number(place)));
  }
  const again = () => {
    sessionStorage.setItem(kept, String(scrollY));
    location.reload();
  };
  const news = new EventSource(`/-/news?after=${script.dataset.number}`);
  news.onmessage = (event) => {
    const state = JSON.parse(event.data);
    const assets = state.changed.some((path) => path.startsWith("assets/"));
    if (assets || state.changed.includes(here) || state.troubles !== troubles) again();
  };
})();
