// The working sheet that writes itself down: the boxes of the paper become fields. What is typed stays in this browser, is held
// against the format and against what is expected, answers what to do, and becomes lines for the entry. Without it the sheet is
// there to print and to read.
"use strict";

(() => {
  const source = document.getElementById("sheet-data");
  const sheet = document.querySelector(".sheet");
  if (!source || !sheet) return;
  const data = JSON.parse(source.textContent);
  // by key, in the order of the work
  const boxes = Object.fromEntries(data.boxes.map((box) => [box.key, box]));
  const numbers = SheetNumbers(data);
  const read = SheetQuantity(data);
  const answers = SheetAnswer(data, numbers);
  const linesOf = SheetLines(data, boxes);
  // one browser may hold the sheets of several journals: pages opened from disk share what it keeps
  const kept = SheetKept(`sheet ${new URL("..", location.href).pathname} ${data.brewery} ${data.batch}`);
  let record = kept.read();

  const make = (name, attributes = {}, ...children) => {
    const made = document.createElement(name);
    for (const [key, value] of Object.entries(attributes)) {
      if (key === "text") made.textContent = value;
      else if (value !== null) made.setAttribute(key, value);
    }
    made.append(...children);
    return made;
  };
  const button = (text, act, attributes = {}) => {
    const made = make("button", { type: "button", text, ...attributes });
    made.addEventListener("click", act);
    return made;
  };

  const timed = (box) => box.kind === "clock" || box.kind === "moment";
  const fields = new Map(); // by key: the field, and where something is said of it

  // a gravity may be of a warm sample, which the paper has no box for; a volume's temperature has one
  for (const [key, box] of Object.entries(boxes)) {
    if (box.kind === "gravity") {
      boxes[`${key} at`] = { task: box.task, words: "sample at", kind: "temperature", unit: data.degrees, field: "" };
    }
  }
  for (const key of Object.keys(boxes)) {
    const of = key.replace(/ at$/, "");
    if (of !== key && of in boxes) boxes[key].of = of;
  }

  // ---- what was typed, understood

  const typedAt = (key) => record.values[key]?.trim() ?? "";

  const measured = (key) => {
    if (!typedAt(key)) return null;
    const box = boxes[key];
    const unit = box.kind === "gravity" ? (record.scales[key] ?? "") : (box.unit ?? "");
    const found = read(typedAt(key), box.kind, unit);
    const beside = `${key} at`;
    if (found.message || !(beside in boxes) || !typedAt(beside) || found.at || found.scale) return found;
    const warm = read(typedAt(beside), "temperature", boxes[beside].unit);
    const [low, high] = data.ranges.sample;
    if (warm.message || warm.value < low || warm.value > high) return found;
    return { ...found, at: warm };
  };

  const whole = (found) => found.text + (found.at ? ` at ${found.at.text}` : "");

  const valueOf = (key) => {
    const found = measured(key);
    if (found.message) return { fault: true };
    const { planned, kind, unit } = boxes[key];
    const same = planned && Math.abs(read(planned, kind, unit).value - found.value) < 1e-9 && !found.at;
    return { text: whole(found), same };
  };

  // what is to be said of a box: a fault, or that it should be read again
  const remarkOn = (key) => {
    const box = boxes[key];
    if (timed(box) || box.kind === "words" || !typedAt(key)) return null;
    const found = measured(key);
    if (found.message) return { fault: true, text: `${found.message}. ${found.hint}` };
    if (box.of) return null;
    if (box.expected) {
      const [low, high] = box.expected;
      const gravity = box.kind === "gravity";
      const byMarks = found.kind === box.kind;
      const cold = gravity ? answers.gravity(found) : byMarks && answers.litres(found, key.startsWith("fermenter") ? "fermenter" : "kettle");
      if (cold && (cold.value < low || cold.value > high)) {
        const range = numbers.range(low, high, gravity ? "SG" : "L");
        return { text: `Outside what nine readings in ten show, ${range}${gravity ? "" : ` at ${data.cold}`}: read it again.` };
      }
      if (byMarks && !gravity && `${key} at` in boxes && !found.at) return { text: `Counted as read at ${data.cold}: say beside it how hot it was.` };
    }
    if (box.planned && !valueOf(key).same) return { text: `The entry says ${box.planned}: yours goes along as a remark.` };
    return null;
  };

  const say = (key) => {
    const { input, said } = fields.get(key);
    const remark = remarkOn(key);
    input.toggleAttribute("aria-invalid", false);
    if (remark?.fault) input.setAttribute("aria-invalid", "true");
    said.textContent = remark?.text ?? "";
    said.classList.toggle("fault", Boolean(remark?.fault));
  };

  // ---- what to do

  const panels = new Map();

  const advise = (place) => {
    const { volumeBox, gravityBox } = data.answers[place];
    const [gravity, volume] = [measured(gravityBox), measured(volumeBox)];
    const usable = (found) => (found && !found.message && ["gravity", "volume"].includes(found.kind) ? found : null);
    const panel = panels.get(place);
    panel.replaceChildren();
    if (!usable(gravity) && !usable(volume)) return;
    const { read: lines, advice } = answers.answer(place, usable(gravity), usable(volume));
    panel.append(
      make("h4", { text: `What to do: target ${numbers.plain(data.answers[place].target, 3)}` }),
      ...advice.map((text) => make("p", { text })),
      make("ul", {}, ...lines.map((text) => make("li", { text }))),
    );
  };

  // ---- the fields

  const keep = (key, text) => {
    kept.change((now) => {
      if (text) now.values[key] = text;
      else delete now.values[key];
    });
    record = kept.read();
    sayKept();
  };

  const changed = (key) => {
    const of = boxes[key].of ?? key;
    for (const each of new Set([key, of])) if (fields.has(each)) say(each);
    for (const [place, { volumeBox, gravityBox }] of Object.entries(data.answers)) if ([volumeBox, gravityBox].includes(of)) advise(place);
    runTimers();
  };

  const shownIn = (key) => (timed(boxes[key]) ? typedAt(key).slice(11, 16) : (record.values[key] ?? ""));

  const inputFor = (key, box) => {
    const kind = timed(box)
      ? { type: "time" }
      : { type: "text", inputmode: box.kind === "words" ? "text" : "decimal", maxlength: "200", autocapitalize: "off", spellcheck: "false" };
    const input = make("input", { ...kind, autocomplete: "off", enterkeyhint: "next" });
    input.value = shownIn(key);
    // a word that is half typed is kept but not yet found fault with
    let later = 0;
    input.addEventListener("input", () => {
      const text = timed(box) && input.value ? SheetClock.typed(input.value, record.values[key]) : input.value;
      keep(key, text);
      clearTimeout(later);
      later = setTimeout(() => changed(key), 700);
    });
    input.addEventListener("change", () => {
      clearTimeout(later);
      changed(key);
    });
    input.addEventListener("keydown", (event) => {
      if (event.key !== "Enter") return;
      event.preventDefault();
      const all = [...sheet.querySelectorAll(".work input")];
      (all[all.indexOf(input) + 1] ?? input).focus();
    });
    return input;
  };

  const setNow = (key) => {
    SheetClock.allowSound();
    keep(key, SheetClock.now());
    fields.get(key).input.value = shownIn(key);
    changed(key);
  };

  const scaleFor = (key) => {
    const choice = make("select", { "aria-label": `scale of ${boxes[key].task}` });
    for (const scale of ["", "°P", "°Bx"]) choice.add(new Option(scale || "SG", scale));
    choice.value = record.scales[key] ?? "";
    choice.addEventListener("change", () => {
      kept.change((now) => (now.scales[key] = choice.value));
      record = kept.read();
      fields.get(`${key} at`).input.closest(".box").hidden = choice.value !== "";
      changed(key);
    });
    return choice;
  };

  let count = 0;
  const fill = (span, key, task, said) => {
    const box = boxes[key];
    const id = `box-${(count += 1)}`;
    const input = inputFor(key, box);
    const words = make("label", { class: "of", for: id, text: span.querySelector(".of").textContent });
    words.id = `${id}-of`;
    span.querySelector(".of").replaceWith(words);
    input.id = id;
    input.setAttribute("aria-labelledby", `${task.id} ${words.id}`);
    input.setAttribute("aria-describedby", said.id);
    span.append(input);
    fields.set(key, { input, said });
    if (timed(box)) span.append(button("Now", () => setNow(key), { class: "now", "aria-label": `${box.task}, ${box.words}: now` }));
    else if (box.kind === "gravity") span.append(scaleFor(key));
    else if (box.unit && !span.querySelector(".u")) span.append(make("span", { class: "u screen", text: box.unit }));
    span.classList.toggle("wide", timed(box) || box.kind === "gravity" || box.kind === "words");
  };

  const fillTask = (task, number) => {
    const spans = [...task.querySelectorAll("[data-box]")];
    if (!spans.length) return;
    const what = task.querySelector(".what");
    what.id = `task-${number}`;
    const said = make("p", { class: "said", role: "status", id: `said-${number}` });
    for (const span of spans) {
      const key = span.dataset.box;
      fill(span, key, what, said);
      if (boxes[key].kind !== "gravity") continue;
      const warm = make("span", { class: "box screen" }, make("span", { class: "of", text: "sample at" }), make("span", { class: "u", text: data.degrees }));
      span.after(warm);
      fill(warm, `${key} at`, what, said);
      warm.hidden = Boolean(record.scales[key]);
    }
    task.append(said);
  };

  // ---- timers

  const running = make("section", { class: "running", "aria-label": "Timers", hidden: "" });
  const rung = new Set();
  const title = document.title;

  const end = ({ key, box, begun }) => {
    if (box.kind === "clock" && box.after) return setNow(key);
    const to = key.replace(/ from$/, " to");
    if (to !== key && to in boxes) return setNow(to);
    kept.change((now) => (now.done[key] = begun));
    record = kept.read();
    runTimers();
  };

  const ENDS = ({ key, box }) => (box.kind === "clock" && box.after ? "In now" : `${key.replace(/ from$/, " to")}` in boxes && key.endsWith(" from") ? "Ended now" : "Done");

  let shownTimers = "";
  const runTimers = () => {
    const due = SheetClock.due(boxes, record);
    running.hidden = due.length === 0;
    SheetClock.keepAwake(due.length > 0);
    // rows are made anew only where others run, lest a button is taken from under a finger
    const which = due.map(({ key, when }) => `${key} ${when}`).join();
    if (which !== shownTimers) {
      shownTimers = which;
      running.replaceChildren(
        ...due.slice(0, 3).map((each) =>
          make(
            "p",
            {},
            make("span", { class: "what", text: each.box.called ?? each.box.task }),
            make("b", { class: "left" }),
            button(ENDS(each), () => end(each), { "aria-label": `${each.box.called ?? each.box.task}: ${ENDS(each).toLowerCase()}` }),
          ),
        ),
      );
    }
    let late = "";
    due.slice(0, 3).forEach((each, place) => {
      const row = running.children[place];
      row.querySelector(".left").textContent = SheetClock.left(each.when);
      const over = each.when <= Date.now();
      row.classList.toggle("over", over);
      if (over) late = each.box.called ?? each.box.task;
      if (over && !rung.has(`${each.key} ${each.when}`)) {
        rung.add(`${each.key} ${each.when}`);
        SheetClock.ring();
      }
    });
    document.title = late ? `${late}: now · ${title}` : title;
  };

  // ---- what is kept, and how to be rid of it

  const keeping = make("div", { class: "keeping" });
  const keptWords = make("p");
  const sayKept = () => {
    const typed = Object.keys(record.values).length || record.notes;
    const since = record.since && typed ? ` Kept since ${new Date(record.since).toLocaleString([], { dateStyle: "medium", timeStyle: "short" })}.` : "";
    keptWords.textContent = kept.works
      ? `What you type is kept in this browser, on this device; nothing is sent anywhere.${since}`
      : "This browser keeps nothing: what you type is lost when the page is left. Take the lines for the entry before.";
    clear.hidden = !typed;
  };
  const clear = button("Clear this sheet", () => {
    if (!confirm(`Clear everything typed into the sheet of ${data.batch} ${data.title}?`)) return;
    kept.clear();
    showAll();
  });
  keeping.append(
    keptWords,
    make("p", { class: "mind", text: "Timers go by the clock and stand again after a lock or a reload; with the screen locked a browser may sound late or not at all, so for what must not be missed set an alarm beside." }),
    clear,
  );

  // ---- the lines for the entry

  const notes = make("textarea", { id: "sheet-notes", rows: "3", autocomplete: "off" });
  notes.addEventListener("input", () => {
    kept.change((now) => (now.notes = notes.value));
    record = kept.read();
    sayKept();
  });
  const lines = make("textarea", { id: "sheet-lines", readonly: "", rows: "14", spellcheck: "false" });
  const done = make("p", { role: "status" });
  const heeded = make("p", { class: "said" });
  const name = `${data.batch.replace(/[^\w-]+/g, "-")}-sheet.md`;

  const copy = async () => {
    try {
      await navigator.clipboard.writeText(lines.value);
    } catch {
      lines.select(); // a page from disk may not reach the clipboard by itself
      document.execCommand("copy");
    }
    done.textContent = "Copied.";
  };
  const share = async () => {
    try {
      await navigator.share({ title: name, text: lines.value });
    } catch {
      done.textContent = "Not shared.";
    }
  };
  const save = () => {
    const address = URL.createObjectURL(new Blob([lines.value], { type: "text/markdown" }));
    make("a", { href: address, download: name }).click();
    setTimeout(() => URL.revokeObjectURL(address), 10_000);
    done.textContent = `Saved as ${name}.`;
  };

  const ready = make(
    "div",
    { class: "ready", hidden: "" },
    heeded,
    make("label", { for: lines.id, text: "Lines for the entry" }),
    lines,
    make(
      "p",
      { class: "buttons" },
      button("Copy", copy),
      ...(navigator.share ? [button("Share", share)] : []),
      button("Save as a file", save),
    ),
    done,
    make("p", { class: "mind" }, "Where the journal is, ", make("code", { text: `wortbook enter ${data.batch} ${name}` }), " shows what that would add to the entry, and adds it; your own lines stay as they are."),
  );
  const give = () => {
    const found = linesOf(record.values, valueOf, record.notes);
    lines.value = found.lines;
    const another = Object.values(record.values).some((text) => /^\d{4}-\d\d-\d\dT/.test(text) && text.slice(0, 10) < data.brewed);
    heeded.textContent = [
      found.remarks.length ? `${found.remarks.length} of what you typed ${found.remarks.length === 1 ? "goes" : "go"} below the fields as remarks: no field takes them, or the entry says something else.` : "",
      another ? `The entry says it is brewed on ${data.day}, and some times are of an earlier day: correct brewed there.` : "",
    ].join(" ").trim();
    done.textContent = "";
    ready.hidden = false;
  };
  const handing = make(
    "section",
    { class: "off handing" },
    make("h3", { text: "Into the journal" }),
    make("label", { for: notes.id, text: "Notes of the day, for the diary" }),
    notes,
    make("p", { class: "buttons" }, button("Lines for the entry", give, { class: "give" })),
    ready,
  );

  // ---- everything at its place

  const showAll = () => {
    record = kept.read();
    for (const [key, { input }] of fields) {
      if (document.activeElement !== input) input.value = shownIn(key);
      say(key);
    }
    for (const choice of sheet.querySelectorAll("select")) choice.value = record.scales[choice.closest("[data-box]").dataset.box] ?? "";
    if (document.activeElement !== notes) notes.value = record.notes;
    for (const place of panels.keys()) advise(place);
    ready.hidden = true;
    sayKept();
    runTimers();
  };

  sheet.querySelectorAll(".task").forEach(fillTask);
  for (const [place, { gravityBox }] of Object.entries(data.answers)) {
    const panel = make("div", { class: "advice", role: "status" });
    panels.set(place, panel);
    fields.get(gravityBox).input.closest(".task-group").querySelector("ol").after(panel);
  }
  const work = sheet.querySelector(".work");
  work.before(keeping);
  work.after(handing);
  sheet.append(running);
  sheet.classList.add("live");
  kept.whenChanged(showAll);
  document.addEventListener("visibilitychange", runTimers);
  setInterval(runTimers, 1000);
  showAll();
})();
