// From what was typed to lines for the entry: front matter with the brewer's own readings, and below it as prose whatever has no
// field of its own, differs from what the entry says already, or can't be read. Nothing typed is left out.
"use strict";

const SheetLines = ({ batch, lists, clock, day }, boxes) => {
  const HALF_DAY = 12 * 3_600_000;
  const BEGUN = { from: "begins", to: "ends", "in at": "in", "pitched at": "" };

  const spaced = (text) => text.replace(/\s+/g, " ").trim();
  const nameOf = (box) => spaced(box.called ?? box.task);
  const called = (box) => spaced(`${nameOf(box)}${box.words ? `, ${box.words}` : ""}`);
  // double quotes hold whatever a name or a typed text does
  const quoted = (text) => JSON.stringify(spaced(text));

  // a tree of groups and lists, in which a value is a text
  const put = (tree, path, value) => {
    const parts = path.split(/\.|(?=\[)/);
    let group = tree;
    parts.forEach((part, depth) => {
      const last = depth === parts.length - 1;
      if (!group.has(part)) group.set(part, last ? value : new Map());
      group = group.get(part);
    });
  };

  const block = (tree, margin) =>
    [...tree].flatMap(([key, value]) =>
      value instanceof Map ? [`${margin}${key}:`, ...inside(value, `${margin}  `)] : [`${margin}${key}: ${value}`],
    );

  const inside = (value, margin) => {
    if (![...value.keys()].every((key) => key.startsWith("["))) return block(value, margin);
    return [...value.values()].flatMap((item) => {
      if (!(item instanceof Map)) return [`${margin}- ${item}`];
      const [first, ...others] = block(item, `${margin}  `);
      return [`${margin}- ${first.trimStart()}`, ...others];
    });
  };

  // every line of a list is named, for two of one name are told apart by their order
  const nameList = (tree, field) => {
    const [list] = field.split("[");
    lists[list].forEach(([name, text], place) => put(tree, `${list}[${place}].${name}`, quoted(text)));
  };

  // `valueOf` gives what a box holds: `text` for the entry, `same` if that is what the entry has, `fault` if it can't be read
  return (values, valueOf, notes) => {
    const tree = new Map([["batch", /^\d+$/.test(batch) ? batch : quoted(batch)]]);
    const remarks = [];
    const times = [];
    for (const [key, box] of Object.entries(boxes)) {
      const typed = values[key];
      if (!typed?.trim()) continue;
      if (box.kind === "clock") times.push({ key, box, moment: typed });
      else if (box.kind === "moment") put(tree, box.field, typed.slice(0, 16).replace("T", " "));
      else if (box.kind === "words") remarks.push(`${called(box)}: ${spaced(typed)}`);
      else if (!box.of) {
        const { text, same, fault } = valueOf(key);
        const listed = box.field.includes("[");
        if (fault) remarks.push(`${called(box)}: “${spaced(typed)}”, which can't be read`);
        else if (same) continue;
        else if (box.planned) remarks.push(`${called(box)}: ${text}, where the entry says ${spaced(box.planned)}`);
        else if (!box.field || (listed && !lists[box.field.split("[")[0]])) remarks.push(`${called(box)}: ${text}`);
        else if (key === "fermenter.temperatures") {
          const pitched = values["fermenter.pitched"];
          if (!pitched) remarks.push(`${called(box)}: ${text}`);
          else {
            put(tree, `${key}[0].on`, pitched.slice(0, 16).replace("T", " "));
            put(tree, `${key}[0].temperature`, text);
          }
        } else {
          if (listed) nameList(tree, box.field);
          put(tree, box.field, text);
        }
      } else if (!values[box.of]?.trim() || !valueOf(box.of).besideUsed) remarks.push(`${called(box)}: ${spaced(typed)}`);
    }
    // typed before a malt was taken out of the entry: no box is there any more
    for (const [key, typed] of Object.entries(values)) {
      if (!(key in boxes) && typed.trim()) remarks.push(`${key}: ${spaced(typed)}, and the entry has no such line now`);
    }
    // the day by the clock; what was done on another day keeps its date
    times.sort((a, b) => a.moment.localeCompare(b.moment));
    const first = times.length ? new Date(times[0].moment).getTime() : 0;
    times.forEach(({ box, moment }, place) => {
      const words = spaced(`${nameOf(box)} ${BEGUN[box.words] ?? box.words}`);
      const [date, time] = [moment.slice(0, 10), moment.slice(11, 16)];
      if (clock || new Date(moment).getTime() - first > 2 * HALF_DAY) remarks.push(`${words}: ${date} ${time}`);
      else put(tree, `clock[${place}]`, quoted(`${time} ${words}`));
    });
    const prose = [];
    if (remarks.length) prose.push(`From the sheet of ${day}:`, "", ...remarks.map((remark) => `- ${remark}`), "");
    if (notes.trim()) prose.push(notes.trim(), "");
    return { lines: ["---", ...block(tree, ""), "---", ...prose].join("\n") + (prose.length ? "" : "\n"), remarks };
  };
};
