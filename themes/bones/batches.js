// Sorts the table of batches by a column and shows only the rows that hold a text and bear the labels chosen. Without it the table is simply there.
"use strict";

(() => {
  const table = document.getElementById("batches");
  const filter = document.getElementById("filter");
  if (!table || !filter) return;
  const body = table.tBodies[0];
  const rows = Array.from(body.rows);
  const heads = Array.from(table.tHead.rows[0].cells);

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

  const sortBy = (column) => {
    const head = heads[column];
    const sign = head.getAttribute("aria-sort") === "ascending" ? -1 : 1;
    heads.forEach((other) => other.removeAttribute("aria-sort"));
    head.setAttribute("aria-sort", sign === 1 ? "ascending" : "descending");
    const keyed = rows.map((row) => [keyOf(row, column, head.dataset.kind), row]);
    keyed.sort(([a], [b]) => compare(a, b, sign));
    body.append(...keyed.map(([, row]) => row));
  };

  heads.forEach((head, column) => {
    const button = document.createElement("button");
    button.type = "button";
    button.append(...head.childNodes);
    button.addEventListener("click", () => sortBy(column));
    head.append(button);
  });

  // the filters stand in the address, so that what is shown can be linked
  const input = document.getElementById("filter-text");
  const count = document.getElementById("filter-count");
  const reset = filter.querySelector("button[type=reset]");
  const selects = Array.from(filter.querySelectorAll("select"));
  const texts = rows.map((row) => row.textContent.toLowerCase());
  const has = (row, { name, value }) => !value || (row.dataset[name] ?? "").split(" ").includes(value);

  const show = () => {
    const words = input.value.toLowerCase().split(/\s+/).filter(Boolean);
    let shown = 0;
    rows.forEach((row, index) => {
      row.hidden = !(words.every((word) => texts[index].includes(word)) && selects.every((select) => has(row, select)));
      shown += row.hidden ? 0 : 1;
    });
    const chosen = [input, ...selects].filter((field) => field.value.trim());
    reset.hidden = chosen.length === 0;
    count.textContent = chosen.length ? `${shown} of ${rows.length}` : "";
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
  filter.hidden = false;
  show();
})();
