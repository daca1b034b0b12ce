// The timers that run, at the foot of the screen: what comes next, how long until then, and one touch that says it is done.
"use strict";

const SheetTimers = (boxes, kept, setNow) => {
  const { make, button } = SheetParts;
  const MOST = 3;
  const bar = make("section", { class: "running", "aria-label": "Timers" });
  const rung = new Set();
  const title = document.title;
  const nameOf = ({ box }) => box.called ?? box.task;

  // what a touch does: a hop's time is written down, an end as well where there is a box for it
  const boxFilledBy = ({ key, box }) => {
    if (box.after) return box.kind === "clock" ? key : null;
    const to = key.replace(/ from$/, " to");
    return to !== key && to in boxes ? to : null;
  };

  const end = (each) => {
    const filled = boxFilledBy(each);
    if (filled) return setNow(filled);
    kept.change((record) => (record.done[each.key] = each.begun));
    run();
  };

  const rowOf = (each) => {
    const words = !boxFilledBy(each) ? "Done" : each.box.after ? "In now" : "Ended now";
    return make(
      "p",
      {},
      make("span", { class: "what", text: nameOf(each) }),
      make("b", { class: "left" }),
      button(words, () => end(each), { "aria-label": `${nameOf(each)}: ${words.toLowerCase()}` }),
    );
  };

  let shown = null;
  const run = () => {
    const due = SheetClock.due(boxes, kept.record);
    const next = due.slice(0, MOST);
    bar.hidden = due.length === 0;
    SheetClock.keepAwake(due.length > 0);
    // rows are made anew only where others run, lest a button is taken from under a finger
    const which = next.map(({ key, when }) => `${key} ${when}`);
    if (which.join() !== shown) bar.replaceChildren(...next.map(rowOf));
    shown = which.join();
    const over = next.map((each, place) => {
      const row = bar.children[place];
      row.querySelector(".left").textContent = SheetClock.left(each.when);
      row.classList.toggle("over", each.when <= Date.now());
      return each.when <= Date.now();
    });
    const late = next.find((each, place) => over[place]);
    document.title = late ? `${nameOf(late)}: now · ${title}` : title;
    const silent = which.filter((each, place) => over[place] && !rung.has(each));
    silent.forEach((each) => rung.add(each));
    if (silent.length) SheetClock.ring();
  };

  document.addEventListener("visibilitychange", run);
  setInterval(run, 1000);
  return { bar, run };
};
