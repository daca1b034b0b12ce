// The way into the journal: notes, and one button that gives the lines for the entry, to copy, to share or as a file.
"use strict";

const SheetHanding = (data, kept, linesNow, whenNoted) => {
  const { make, button } = SheetParts;
  const name = `${data.batch.replace(/[^\w-]+/g, "-")}-sheet.md`;

  const notes = make("textarea", { id: "sheet-notes", rows: "3", autocomplete: "off" });
  notes.addEventListener("input", () => {
    kept.change((record) => (record.notes = notes.value));
    whenNoted();
  });
  const lines = make("textarea", { id: "sheet-lines", readonly: "", rows: "14", spellcheck: "false" });
  // both are there before they say something, and so are spoken
  const given = make("p", { class: "aside", role: "status" });
  const heeded = make("p", { class: "heeded", role: "status" });
  const done = make("p", { role: "status" });

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
    { class: "ready" },
    make("label", { for: lines.id, text: "For the entry" }),
    lines,
    make(
      "p",
      { class: "buttons" },
      button("Copy", copy),
      ...(navigator.share ? [button("Share", share)] : []),
      button("Save as a file", save),
    ),
    done,
    make(
      "p",
      { class: "mind" },
      "Where the journal is, ",
      make("code", { text: `wortbook enter ${data.batch} ${name}` }),
      " shows what these lines would add to the entry, and adds them if you say so; what you wrote there stays as it is.",
    ),
  );
  ready.hidden = true;

  const give = () => {
    const { text, remarks, otherDay, unweighed } = linesNow();
    lines.value = text;
    heeded.textContent = [
      remarks === 1 && "One thing that you typed goes below the fields as a remark: no field takes it, or the entry says something else.",
      remarks > 1 && `${remarks} things that you typed go below the fields as remarks: no field takes them, or the entry says something else.`,
      otherDay && `The first time typed is of ${otherDay}, and the entry has brewed: ${data.brewed}. If the day is wrong there, correct it.`,
      unweighed && `The entry has no weight of ${unweighed}, and none is typed: what is not written down counts as unknown.`,
    ]
      .filter(Boolean)
      .join(" ");
    done.textContent = "";
    ready.hidden = false;
    given.textContent = "";
    requestAnimationFrame(() => (given.textContent = "The lines stand below, to copy or to save."));
  };

  const part = make(
    "section",
    { class: "off handing" },
    make("h3", { text: "Into the journal" }),
    make("label", { for: notes.id, text: "Notes of the day, for the diary" }),
    notes,
    make("p", { class: "buttons" }, button("Lines for the entry", give, { class: "give" })),
    given,
    heeded,
    ready,
  );

  const show = () => {
    if (document.activeElement !== notes) notes.value = kept.record.notes;
    ready.hidden = true;
    given.textContent = "";
    heeded.textContent = "";
  };

  return { part, show };
};
