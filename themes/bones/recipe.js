// A button that copies the recipe as plain text, a line a thing, as it stands on the page. Without this script there is none.
"use strict";

(() => {
  const table = document.querySelector("table.recipe");
  const title = document.querySelector("h1");
  if (!table || !title) return;

  const words = (element) => element.textContent.trim().replace(/\s+/g, " ");

  const text = () => {
    const beer = Array.from(document.querySelectorAll(".head .beer > *"), words);
    const lines = [words(title), words(document.querySelector(".head .facts")).replace(/ · [^·]*$/, ""), ...beer];
    for (const row of table.rows) {
      if (row.matches(".of")) {
        lines.push("", words(row));
        continue;
      }
      const [what, amount, when] = Array.from(row.cells, words);
      lines.push(`  ${amount.padStart(10)}  ${what}${when && `, ${when}`}`.trimEnd());
    }
    return `${lines.join("\n")}\n`;
  };

  const button = document.createElement("button");
  button.type = "button";
  button.textContent = "Copy the recipe";
  const said = document.createElement("output");

  button.addEventListener("click", async () => {
    try {
      await navigator.clipboard.writeText(text());
    } catch {
      // a page from disk may not reach the clipboard by itself
      const box = document.createElement("textarea");
      box.value = text();
      document.body.append(box);
      box.select();
      const done = document.execCommand("copy");
      box.remove();
      button.focus();
      said.textContent = done ? "Copied." : "Not copied: mark the recipe and copy it.";
      return;
    }
    said.textContent = "Copied.";
  });

  const place = document.createElement("p");
  place.className = "more";
  place.append(button, " ", said);
  table.after(place);
})();
