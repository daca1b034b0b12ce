// What was typed into a sheet, kept by the browser for this journal and batch until it is cleared. Every change reads first
// what is there, so that two windows of one sheet don't undo each other. Where a browser keeps nothing, it holds until the
// page is left, and `works` says so.
"use strict";

const SheetKept = (key) => {
  const empty = () => ({ since: "", values: {}, scales: {}, done: {}, notes: "" });

  const texts = (found) =>
    Object.fromEntries(Object.entries(found ?? {}).filter(([, value]) => typeof value === "string"));

  // whatever stands under the key, it may be no sheet of ours
  const parsed = (text) => {
    try {
      const found = JSON.parse(text) ?? {};
      return {
        since: String(found.since ?? ""),
        values: texts(found.values),
        scales: texts(found.scales),
        done: texts(found.done),
        notes: String(found.notes ?? ""),
      };
    } catch {
      return empty();
    }
  };

  // a browser may be closed to pages, or full
  const trying = (act) => {
    if (!kept.works) return;
    try {
      act();
    } catch {
      kept.works = false;
    }
  };

  const kept = {
    works: true,
    // by key of a box what was typed and on which scale, which timers were ended, and the notes
    record: empty(),

    refresh() {
      trying(() => (kept.record = parsed(localStorage.getItem(key))));
    },

    change(how) {
      kept.refresh();
      how(kept.record);
      kept.record.since ||= new Date().toISOString();
      trying(() => localStorage.setItem(key, JSON.stringify(kept.record)));
    },

    clear() {
      kept.record = empty();
      trying(() => localStorage.removeItem(key));
    },

    // another window of the same sheet changed it
    whenChanged(then) {
      addEventListener("storage", (event) => {
        if (event.key === key || event.key === null) then();
      });
    },
  };
  kept.refresh();
  return kept;
};
