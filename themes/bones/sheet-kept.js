// What was typed into a sheet, kept by the browser for this journal and batch until it is cleared. Every change reads first
// what is there, so that two windows of one sheet don't undo each other. Where a browser keeps nothing, it holds until the
// page is left, and `works` says so.
"use strict";

const SheetKept = (key) => {
  const empty = () => ({ since: "", values: {}, scales: {}, done: {}, notes: "" });
  let inMemory = empty();

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

  const kept = {
    works: true,

    read() {
      if (!kept.works) return inMemory;
      try {
        return parsed(localStorage.getItem(key));
      } catch {
        kept.works = false;
        return inMemory;
      }
    },

    change(how) {
      const record = kept.read();
      how(record);
      record.since ||= new Date().toISOString();
      inMemory = record;
      if (!kept.works) return;
      try {
        localStorage.setItem(key, JSON.stringify(record));
      } catch {
        kept.works = false; // full, or closed to pages
      }
    },

    clear() {
      inMemory = empty();
      try {
        localStorage.removeItem(key);
      } catch {
        kept.works = false;
      }
    },

    // another window of the same sheet changed it
    whenChanged(then) {
      addEventListener("storage", (event) => {
        if (event.key === key || event.key === null) then();
      });
    },
  };
  return kept;
};
