// The working sheet that writes itself down: the boxes of the paper become fields. What is typed stays in this browser, is held
// against the format and against what is expected, answers what to do, and becomes lines for the entry. Without it the sheet is
// there to read and to print.
"use strict";

(() => {
  const source = document.getElementById("sheet-data");
  const sheet = document.querySelector(".sheet");
  if (!source || !sheet) return;
  const { make, button } = SheetParts;
  const data = JSON.parse(source.textContent);
  // by key, in the order of the work
  const boxes = Object.fromEntries(data.boxes.map((box) => [box.key, box]));
  const isTime = ({ kind }) => kind === "clock" || kind === "moment";

  // a gravity may be of a warm sample, which the paper has no box for; a volume's temperature has one
  for (const { key, kind, task } of data.boxes) {
    if (kind === "gravity") boxes[`${key} at`] = { task, words: "sample at", kind: "temperature", unit: data.degrees, field: "" };
  }
  for (const key of Object.keys(boxes)) {
    const of = key.replace(/ at$/, "");
    if (of !== key && of in boxes) boxes[key].of = of;
  }

  // one browser may hold the sheets of several journals: pages opened from disk share what it keeps
  const kept = SheetKept(`sheet ${new URL("..", location.href).pathname} ${data.brewery} ${data.batch}`);
  const numbers = SheetNumbers(data);
  const readings = SheetReadings(data, boxes, kept, numbers);
  const linesOf = SheetLines(data, boxes);

  // ---- what is said

  const fields = new Map(); // by key: its input, and where something is said of its task
  const panels = new Map(); // by place: where it says what to do

  const say = (said) => {
    const remarks = [...fields]
      .filter(([, field]) => field.said === said)
      .map(([key, { input }]) => {
        const remark = readings.remarkOn(key);
        if (remark?.fault) input.setAttribute("aria-invalid", "true");
        else input.removeAttribute("aria-invalid");
        return remark?.text ?? "";
      });
    const text = remarks.filter(Boolean).join(" ");
    // said once, not at every look
    if (said.textContent !== text) said.textContent = text;
  };

  const advise = (place) => {
    const found = readings.adviceAt(place);
    const target = numbers.plain(data.answers[place].target, 3);
    const lines = found ? [`What to do: target ${target}`, ...found.advice, ...found.read] : [];
    const { panel, todo } = panels.get(place);
    if (panel.dataset.said === lines.join("\n")) return;
    panel.dataset.said = lines.join("\n");
    // spoken is what to do, and only once it is something else; the rest is there to be looked up
    const advice = found?.advice ?? [];
    if ([...todo.children].map((p) => p.textContent).join("\n") !== advice.join("\n")) todo.replaceChildren(...advice.map((text) => make("p", { text })));
    panel.querySelectorAll("h4, ul").forEach((old) => old.remove());
    if (!found) return;
    todo.before(make("h4", { text: lines[0] }));
    todo.after(make("ul", {}, ...found.read.map((text) => make("li", { text }))));
  };

  const keptWords = make("p");
  const clear = button("Clear this sheet", () => {
    if (!confirm(`Clear everything typed into the sheet of ${data.batch} ${data.title}?`)) return;
    kept.clear();
    showAll();
  });
  const sayKept = () => {
    const { values, notes, since } = kept.record;
    const typed = Object.keys(values).length > 0 || notes !== "";
    const begun = new Date(since);
    const when = typed && !Number.isNaN(begun.getTime()) ? ` Kept since ${begun.toLocaleString([], { dateStyle: "medium", timeStyle: "short" })}.` : "";
    keptWords.textContent = kept.works
      ? `What you type is kept in this browser, on this device, and is sent nowhere.${when}`
      : "This browser keeps nothing: what you type is lost when the page is left, so take the lines for the entry before.";
    clear.hidden = !typed;
  };

  // ---- what is typed

  const keep = (key, text) => {
    kept.change(({ values }) => {
      if (text) values[key] = text;
      else delete values[key];
    });
    sayKept();
  };

  const changed = (key) => {
    offerTouch(key);
    say(fields.get(key).said);
    Object.keys(data.answers).forEach(advise);
    timers.run();
  };

  const shownIn = (key) => {
    const text = kept.record.values[key] ?? "";
    return isTime(boxes[key]) ? text.slice(11, 16) : text;
  };

  // what one touch fills is offered only while the field is empty: a wet thumb takes no time away
  const offerTouch = (key) => {
    const { input } = fields.get(key);
    const touch = input.parentElement.querySelector("button");
    if (!touch) return;
    const had = document.activeElement === touch;
    touch.hidden = Boolean(kept.record.values[key]);
    if (had && touch.hidden) input.focus({ preventScroll: true });
  };

  const set = (key, text) => {
    keep(key, text);
    fields.get(key).input.value = shownIn(key);
    changed(key);
  };

  const setNow = (key) => {
    SheetClock.allowSound();
    set(key, SheetClock.now());
  };

  const inputFor = (key, box) => {
    const how = isTime(box)
      ? { type: "time" }
      : { type: "text", inputmode: box.kind === "words" ? "text" : "decimal", maxlength: "200", autocapitalize: "off", spellcheck: "false" };
    const input = make("input", { ...how, autocomplete: "off", enterkeyhint: "next" });
    // a number that is half typed is kept, but not yet found fault with
    let later = 0;
    input.addEventListener("input", () => {
      keep(key, isTime(box) && input.value ? SheetClock.typed(input.value, kept.record.values[key]) : input.value);
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
      const all = [...sheet.querySelectorAll(".work input")].filter((each) => each.offsetParent);
      (all[all.indexOf(input) + 1] ?? input).focus();
    });
    return input;
  };

  const scaleFor = (key) => {
    const choice = make("select", { "aria-label": `scale of ${boxes[key].task}` });
    for (const scale of ["", "°P", "°Bx"]) choice.add(new Option(scale || "SG", scale));
    choice.addEventListener("change", () => {
      kept.change(({ scales }) => (scales[key] = choice.value));
      showScale(key);
      changed(key);
    });
    return choice;
  };

  // strengths are not corrected for a sample's warmth
  const showScale = (key) => {
    const scale = kept.record.scales[key] ?? "";
    fields.get(key).input.parentElement.querySelector("select").value = scale;
    fields.get(`${key} at`).input.parentElement.hidden = scale !== "";
  };

  const beside = (key, box, span) => {
    const named = `${box.called ?? box.task}, ${box.words}`;
    if (isTime(box)) return button("Now", () => setNow(key), { "aria-label": `${named}: now` });
    if (box.kind === "gravity") return scaleFor(key);
    // of a grist by shares the entry has no weights: one touch says that it was weighed as the sheet has it
    if (box.field && box.kind === "weight" && box.amount && !box.planned)
      return button("As said", () => set(key, box.amount.replace(/\s+/g, " ")), { "aria-label": `${named}: as said, ${box.amount}` });
    return box.unit && !span.querySelector(".u") ? make("span", { class: "u screen", text: box.unit }) : "";
  };

  const fill = (span, key, what, said) => {
    const box = boxes[key];
    const input = inputFor(key, box);
    input.id = `field-${fields.size}`;
    const old = span.querySelector(".of");
    const words = make("label", { class: "of", for: input.id, id: `${input.id}-of`, text: old.textContent });
    old.replaceWith(words);
    input.setAttribute("aria-labelledby", `${what.id} ${words.id}`);
    input.setAttribute("aria-describedby", said.id);
    span.append(input, beside(key, box, span));
    span.classList.toggle("wide", isTime(box) || box.kind === "gravity" || box.kind === "words" || span.querySelector("button") !== null);
    fields.set(key, { input, said });
  };

  const fillTask = (task, number) => {
    const what = task.querySelector(".what");
    what.id = `task-${number}`;
    const said = make("p", { class: "said", role: "status", id: `said-${number}` });
    const spans = [...task.querySelectorAll("[data-box]")];
    for (const span of spans) {
      const key = span.dataset.box;
      fill(span, key, what, said);
      if (boxes[key].kind !== "gravity") continue;
      const warm = make("span", { class: "box screen", "data-box": `${key} at` }, make("span", { class: "of", text: "sample at" }), make("span", { class: "u", text: data.degrees }));
      span.after(warm);
      fill(warm, `${key} at`, what, said);
    }
    task.classList.toggle("single", spans.length === 1 && !spans[0].classList.contains("wide"));
    if (spans.length) task.append(said);
  };

  // ---- everything at its place

  const linesNow = () => {
    const { values, notes } = kept.record;
    const { lines, remarks } = linesOf(values, readings.valueOf, notes);
    const [first] = Object.keys(boxes).filter((key) => isTime(boxes[key]) && values[key]).map((key) => values[key].slice(0, 10)).sort();
    const unweighed = data.boxes.filter((box) => box.field.startsWith("grains") && !box.planned && !values[box.key]?.trim());
    return {
      text: lines,
      remarks: remarks.length,
      otherDay: first !== data.brewed && first,
      unweighed: unweighed.map(({ task }) => task).join(", "),
    };
  };

  const timers = SheetTimers(boxes, kept, setNow);
  const handing = SheetHanding(data, kept, linesNow, sayKept);

  const showAll = () => {
    kept.refresh();
    for (const [key, { input }] of fields) {
      if (document.activeElement !== input) input.value = shownIn(key);
      offerTouch(key);
      if (boxes[key].kind === "gravity") showScale(key);
    }
    new Set([...fields.values()].map(({ said }) => said)).forEach(say);
    Object.keys(data.answers).forEach(advise);
    handing.show();
    sayKept();
    timers.run();
  };

  sheet.querySelectorAll(".task").forEach(fillTask);
  for (const [place, { gravityBox }] of Object.entries(data.answers)) {
    const todo = make("div", { role: "status" });
    const panel = make("div", { class: "advice" }, todo);
    panels.set(place, { panel, todo });
    fields.get(gravityBox).input.closest(".task-group").querySelector("ol").after(panel);
  }
  const work = sheet.querySelector(".work");
  const locked =
    "Timers go by the clock, and a lock or a reload costs them nothing; but while the screen is locked a browser may sound late or not at all. " +
    "For what must not be missed set an alarm beside it.";
  work.before(make("div", { class: "keeping" }, keptWords, make("p", { class: "mind", text: locked }), clear));
  work.after(handing.part);
  sheet.append(timers.bar);
  sheet.classList.add("live");
  kept.whenChanged(showAll);
  SheetOffline(() => {
    keptWords.after(make("p", { class: "mind", text: "The page itself is kept too, and opens again without a network." }));
  });
  showAll();
})();
