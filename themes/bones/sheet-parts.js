// Elements of the live sheet, made of texts and never of markup.
"use strict";

const SheetParts = (() => {
  const make = (name, attributes = {}, ...children) => {
    const made = document.createElement(name);
    for (const [key, value] of Object.entries(attributes)) {
      if (key === "text") made.textContent = value;
      else made.setAttribute(key, value);
    }
    made.append(...children);
    return made;
  };

  const button = (text, act, attributes = {}) => {
    const made = make("button", { type: "button", text, ...attributes });
    made.addEventListener("click", act);
    return made;
  };

  return { make, button };
})();
