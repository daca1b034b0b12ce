// Sorts the list of batches by a column and shows only the rows that hold a text and bear the labels chosen. Without it the list is simply there.
"use strict";

(() => {
  const table = document.getElementById("batches");
  const filter = document.getElementById("filter");
  if (!table || !filter) return;
  const heads = Array.from(table.tHead.rows[0].cells);
  const groups = Array.from(table.tBodies).map((body) => ({
    body,
    head: body.rows[0],
    rows: Array.from(body.rows).slice(1).filter((row) => !row.matches(".more")),
  }));
  const rows = groups.flatMap((group) => group.rows);
  const texts = rows.map((row) => row.textContent.toLowerCase());

  const made = (name, attributes = {}, ...children) => {
    const element = name === "svg" || name === "circle" || name === "path" ? document.createElementNS("http://www.w3.org/2000/svg", name) : document.createElement(name);
    for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
    element.append(...children);
    return element;
  };

  // the dot of an efficiency, or the diamond of one that is left out, as on the rows that are there
  const spot = (share, leftOut) => {
    const mark = leftOut
      ? made("svg", { x: `${share}%`, y: 9, width: 1, height: 1, overflow: "visible" }, made("path", { class: "diamond", d: "M0-5 5 0 0 5-5 0z" }))
      : made("circle", { class: "spot", cx: `${share}%`, cy: 9, r: 3.5 });
    return made("svg", { class: "on-axis", "aria-hidden": "true", width: "100%", height: 18 }, mark);
  };

  const columns = heads.slice(3, -1).map((head) => head.textContent.trim().replace(", %", ""));

  const rowOf = (keys, kinds, [id, href, order, day, title, labels, marks, numbers, [efficiency = "", sd, key = ""], [share, leftOut], numbered]) => {
    const to = href || `batches/${id}.html`;
    const name = made("th", { scope: "row" }, made("a", { href: to }, title));
    if (marks.includes("o")) name.append(" ", made("a", { class: "aside-note", href: `${to}#odd` }, "flagged"));
    if (marks.includes("p")) name.append(" ", made("span", { class: "aside-note" }, "planned"));
    if (labels) name.append(" ", made("span", { class: "style" }, labels));
    const last = made("td", { class: "efficiency", "data-words": "efficiency", "data-sort": key });
    if (share !== undefined) {
      const number = made("span", { class: "count" }, efficiency, " ");
      if (sd) number.append(made("span", { class: "sd" }, `± ${sd}`));
      last.append(spot(share, leftOut), number);
      if (marks.includes("d")) last.append(made("span", { class: "aside" }, " doubtful"));
    }
    const row = made(
      "tr",
      {},
      made("td", { class: "id", "data-sort": order }, id),
      made("td", { class: "when", "data-sort": day }, made("time", { datetime: day }, day)),
      name,
      ...numbers.map(([text = "", sort = ""], index) => made("td", { class: "count", "data-words": columns[index], "data-sort": sort }, text)),
      last,
    );
    kinds.forEach((kind, index) => {
      if (numbered[index].length) row.dataset[kind] = numbered[index].map((number) => keys[number]).join(" ");
    });
    return row;
  };

  // of a long list the earlier batches are left to the pages of their years, until they are asked for
  const earlier = document.getElementById("earlier");
  let whole = !earlier;
  const fill = () => {
    if (whole) return;
    whole = true;
    const { kinds, keys, rows: packed } = JSON.parse(earlier.textContent);
    const byYear = new Map(groups.map((group) => [group.body.dataset.year, group]));
    for (const each of packed) {
      const group = byYear.get(each[3].slice(0, 4));
      const row = rowOf(keys, kinds, each);
      group.rows.push(row);
      group.body.append(row);
      rows.push(row);
      texts.push(row.textContent.toLowerCase());
    }
    table.querySelectorAll("tr.more").forEach((row) => row.remove());
  };

  const keyOf = (row, column, kind) => {
    const cell = row.cells[column];
    const key = cell.dataset.sort ?? cell.textContent.trim();
    return kind === "number" ? (key === "" ? null : Number(key)) : key;
  };

  // rows without a value come last either way
  const compare = (a, b, sign) => {
    if (a === null || b === null) return (a === null) - (b === null);
    return sign * (typeof a === "number" ? a - b : a.localeCompare(b, "en", { numeric: true }));
  };

  // years stand over their batches only while these stand in order of time
  const inTime = (column) => column < 2;

  const place = (sorted, column, sign) => {
    if (!inTime(column)) {
      groups.forEach((group) => group.head.remove());
      groups[0].body.append(...sorted);
      return;
    }
    for (const group of sign === 1 ? groups.toReversed() : groups) {
      const own = new Set(group.rows);
      group.body.append(group.head, ...sorted.filter((row) => own.has(row)));
      table.append(group.body);
    }
  };

  const sortBy = (column, sign) => {
    fill();
    heads.forEach((other) => other.removeAttribute("aria-sort"));
    heads[column].setAttribute("aria-sort", sign === 1 ? "ascending" : "descending");
    const keyed = rows.map((row) => [keyOf(row, column, heads[column].dataset.kind), row]);
    keyed.sort(([a], [b]) => compare(a, b, sign));
    place(keyed.map(([, row]) => row), column, sign);
    choice.value = `${column} ${sign}`;
  };

  // where there is no room for heads, the same stands in a list of choices
  const choice = document.getElementById("sort");
  heads.forEach((head, column) => {
    const words = head.firstChild.textContent.trim();
    const [up, down] = head.dataset.kind === "number" ? ["lowest first", "highest first"] : ["A to Z", "Z to A"];
    const [first, last] = inTime(column) ? ["earliest first", "latest first"] : [up, down];
    choice.add(new Option(`${words}, ${last}`, `${column} -1`));
    choice.add(new Option(`${words}, ${first}`, `${column} 1`));
    const button = document.createElement("button");
    button.type = "button";
    button.append(head.firstChild);
    button.addEventListener("click", () => sortBy(column, head.getAttribute("aria-sort") === "ascending" ? -1 : 1));
    head.prepend(button);
  });
  choice.addEventListener("change", () => sortBy(...choice.value.split(" ").map(Number)));

  // the filters stand in the address, so that what is shown can be linked
  const input = document.getElementById("filter-text");
  const count = document.getElementById("filter-count");
  const reset = filter.querySelector("button[type=reset]");
  const selects = Array.from(filter.querySelectorAll("select[name]"));
  const has = (row, { name, value }) => !value || (row.dataset[name] ?? "").split(" ").includes(value);

  const show = () => {
    const words = input.value.toLowerCase().split(/\s+/).filter(Boolean);
    if (words.length || selects.some((select) => select.value)) fill();
    let shown = 0;
    rows.forEach((row, index) => {
      row.hidden = !(words.every((word) => texts[index].includes(word)) && selects.every((select) => has(row, select)));
      shown += row.hidden ? 0 : 1;
    });
    for (const group of groups) group.head.hidden = group.rows.length > 0 && group.rows.every((row) => row.hidden);
    const chosen = [input, ...selects].filter((field) => field.value.trim());
    reset.hidden = chosen.length === 0;
    // nothing is said of a list that nobody has filtered yet; of one that is whole again, that it is
    const of = `${rows.length} ${rows.length === 1 ? "batch" : "batches"}`;
    if (chosen.length) count.textContent = `${shown} of ${of}`;
    else if (count.textContent) count.textContent = `all ${of}`;
    return chosen;
  };

  const change = () => {
    const wanted = new URLSearchParams(show().map((field) => [field.name, field.value.trim()]));
    history.replaceState(null, "", wanted.size ? `?${wanted}` : location.pathname);
  };

  const asked = new URLSearchParams(location.search);
  input.value = asked.get("q") ?? "";
  for (const select of selects) {
    select.value = asked.get(select.name) ?? "";
    if (select.selectedIndex < 0) select.value = "";
    select.addEventListener("change", change);
  }
  input.addEventListener("input", change);
  filter.addEventListener("submit", (event) => event.preventDefault());
  filter.addEventListener("reset", (event) => {
    event.preventDefault();
    for (const field of [input, ...selects]) field.value = "";
    change();
    input.focus();
  });
  // on a phone the choices are folded, unless one is made
  const fold = made("button", { type: "button", "aria-expanded": "false" }, "More filters, and sorting");
  fold.addEventListener("click", () => {
    const folded = filter.classList.toggle("folded");
    fold.setAttribute("aria-expanded", String(!folded));
  });
  input.closest("p").after(made("p", { class: "fold" }, fold));
  if (selects.every((select) => !select.value)) filter.classList.add("folded");
  else fold.setAttribute("aria-expanded", "true");
  filter.hidden = false;
  choice.value = "0 -1";
  show();
})();
