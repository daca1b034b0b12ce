// Finds batches by their words. The lists come as scripts, for a page opened from disk may load nothing else:
// search/words.js calls take, search/prose-N.js calls takeProse, search/how-to.js calls takeHelp.
"use strict";

const journalSearch = (() => {
  const SIGNS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";
  const VALUES = new Uint8Array(128);
  for (let value = 0; value < SIGNS.length; value += 1) VALUES[SIGNS.charCodeAt(value)] = value;
  const PLAIN = { ß: "ss", æ: "ae", œ: "oe", ø: "o", đ: "d", ł: "l" };
  // what a word weighs in prose, in a label and in the title; a word that is only begun weighs half
  const WEIGHTS = [1, 4, 16];
  const AT_A_TIME = 20;
  const MOST_HELP = 5;
  const AROUND = 90;
  const WORD = /[\p{L}\p{N}\p{M}'’ʼ]+(?:(?<=\p{N})[.,]\p{N}+)*/gu;

  const form = document.getElementById("search");
  const field = document.getElementById("words");
  const list = document.getElementById("results");
  const part = document.getElementById("results-part");
  const count = document.getElementById("search-count");
  const more = document.getElementById("more");
  const helpPart = document.getElementById("help-part");
  const helpList = document.getElementById("help-results");

  let words = [];
  let places = [];
  let batches = [];
  let things = [];
  let stretch = 1;
  let found = [];
  let terms = [];
  let help = [];
  const prose = new Map();

  const fold = (text) =>
    text.normalize("NFKD").toLowerCase().replace(/\p{M}|['’ʼ]/gu, "").replace(/[ßæœøđł]/g, (letter) => PLAIN[letter]);
  const wordsOf = (text) => fold(text).match(/[\p{L}\p{N}]+(?:(?<=\p{N})[.,]\p{N}+)*/gu) ?? [];

  const unpack = (lines) => {
    let before = "";
    for (const line of lines) {
      const [packed, ...lists] = line.split(" ");
      before = before.slice(0, VALUES[packed.charCodeAt(0)]) + packed.slice(1);
      words.push(before);
      places.push(lists);
    }
  };

  const eachPlace = (signs, visit) => {
    let last = -1;
    let step = 0;
    let factor = 1;
    for (let at = 0; at < signs.length; at += 1) {
      const value = VALUES[signs.charCodeAt(at)];
      step += (value % 32) * factor;
      factor *= 32;
      if (value < 32) {
        last += step + 1;
        visit(last);
        step = 0;
        factor = 1;
      }
    }
  };

  const firstAtOrAfter = (word) => {
    let low = 0;
    let high = words.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (words[middle] < word) low = middle + 1;
      else high = middle;
    }
    return low;
  };

  // what a word, or one that begins so, weighs in each batch; 0 where it is not
  const weigh = (word, begun) => {
    const weights = new Float64Array(batches.length);
    for (let at = firstAtOrAfter(word); at < words.length && words[at].startsWith(word); at += 1) {
      const whole = words[at] === word;
      if (!whole && !begun) break;
      places[at].forEach((signs, kind) => {
        const weight = WEIGHTS[kind] * (whole ? 1 : 0.5);
        eachPlace(signs, (batch) => {
          if (weights[batch] < weight) weights[batch] = weight;
        });
      });
    }
    return weights;
  };

  // every word must be there; the last may be only begun; the weightiest first, then the latest
  const find = (asked) => {
    if (!asked.length) return [];
    const weights = asked.map((word, index) => weigh(word, index === asked.length - 1));
    const sums = batches.map((_, batch) => (weights.every((each) => each[batch]) ? weights.reduce((sum, each) => sum + each[batch], 0) : 0));
    return Array.from(batches.keys()).filter((batch) => sums[batch]).sort((a, b) => sums[b] - sums[a] || b - a);
  };

  const isMeant = (word) => {
    const folded = wordsOf(word);
    return folded.some((one) => terms.some((term, index) => one === term || (index === terms.length - 1 && one.startsWith(term))));
  };

  const element = (name, className, ...children) => {
    const made = document.createElement(name);
    if (className) made.className = className;
    made.append(...children);
    return made;
  };

  // text with the words that were asked for marked
  const marked = (text) => {
    const pieces = [];
    let last = 0;
    for (const match of text.matchAll(WORD)) {
      if (!isMeant(match[0])) continue;
      pieces.push(text.slice(last, match.index), element("mark", "", match[0]));
      last = match.index + match[0].length;
    }
    return [...pieces, text.slice(last)];
  };

  const firstIn = (text) => {
    for (const match of text.matchAll(WORD)) if (isMeant(match[0])) return match;
    return null;
  };

  const excerpt = (text) => {
    const first = firstIn(text);
    if (!first) return null;
    let start = Math.max(0, first.index - AROUND);
    let end = Math.min(text.length, first.index + first[0].length + AROUND);
    if (start > 0) start = text.indexOf(" ", start) + 1;
    if (end < text.length) end = Math.max(text.lastIndexOf(" ", end), first.index + first[0].length);
    return [start > 0 ? "… " : "", ...marked(text.slice(start, end)), end < text.length ? " …" : ""];
  };

  const fillExcerpts = () => {
    for (const place of list.querySelectorAll("[data-batch]")) {
      const batch = Number(place.dataset.batch);
      const texts = prose.get(Math.floor(batch / stretch));
      if (!texts) continue;
      const said = excerpt(texts[batch % stretch]);
      delete place.dataset.batch;
      if (said) place.replaceChildren(...said);
      else place.remove();
    }
  };

  const asked = new Set();
  const ask = (number) => {
    if (asked.has(number)) return;
    asked.add(number);
    const script = document.createElement("script");
    script.src = `search/prose-${number}.js`;
    document.head.append(script);
  };

  const row = (batch) => {
    const [id, title, day, style, tags, used] = batches[batch];
    const link = element("a", "", ...marked(title));
    link.href = `batches/${encodeURIComponent(id)}.html`;
    const when = element("time", "", day);
    when.dateTime = day;
    const labels = [style, ...tags, ...used.map((thing) => things[thing])].filter((label) => label && firstIn(label));
    const item = element(
      "li", "",
      element("span", "number", ...marked(id)), " ",
      element("span", "title", link), " ",
      element("span", "when", when),
    );
    if (labels.length) {
      const said = labels.flatMap((label, index) => [index ? ", " : "", ...marked(label)]);
      item.append(" ", element("span", "where", ...said));
    }
    const place = element("span", "said");
    place.dataset.batch = batch;
    item.append(" ", place);
    return item;
  };

  const showMore = () => {
    const shown = list.childElementCount;
    const next = found.slice(shown, shown + AT_A_TIME);
    list.append(...next.map(row));
    more.hidden = shown + next.length >= found.length;
    next.forEach((batch) => ask(Math.floor(batch / stretch)));
    requestAnimationFrame(fillExcerpts); // after the results themselves are seen
  };

  // sections of the help that have every word, those with one in a heading first
  const showHelp = () => {
    const told = help.filter(({ words }) => terms.length && terms.every((term, index) => words.some((word) => word === term || (index === terms.length - 1 && word.startsWith(term)))));
    const ordered = [...told.filter(({ head }) => firstIn(head)), ...told.filter(({ head }) => !firstIn(head))].slice(0, MOST_HELP);
    helpList.replaceChildren(...ordered.map(({ href, head, text }) => {
      const link = element("a", "", ...marked(head));
      link.href = href;
      return element("li", "", link, " ", element("span", "gloss", ...(excerpt(text) ?? [])));
    }));
    helpPart.hidden = ordered.length === 0;
  };

  // what is found of either, in one line
  const showCount = () => {
    const all = found.length === 1 ? "1 batch" : `${found.length} batches`;
    const told = helpList.childElementCount > 0;
    if (!terms.length) count.textContent = "";
    else if (found.length) count.textContent = `${all} of ${batches.length}${told ? ", and the help" : ""}`;
    else count.textContent = told ? "No batch has all of these words, but the help has." : "No batch has all of these words.";
  };

  const show = () => {
    terms = wordsOf(field.value);
    found = find(terms);
    list.replaceChildren();
    part.hidden = found.length === 0;
    showMore();
    showHelp();
    showCount();
  };

  const keepInAddress = () => {
    const words = field.value.trim();
    history.replaceState(null, "", words ? `?${new URLSearchParams({ q: words })}` : location.pathname);
  };

  const take = (lines, rows, names, size) => {
    batches = rows;
    things = names;
    stretch = size;
    if (lines) unpack(lines.split("\n"));
    field.value = new URLSearchParams(location.search).get("q") ?? "";
    field.addEventListener("input", () => {
      show();
      keepInAddress();
    });
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      show();
      keepInAddress();
    });
    more.addEventListener("click", showMore);
    form.hidden = false;
    document.getElementById("without").hidden = true;
    show();
    field.focus();
  };

  const takeProse = (number, texts) => {
    prose.set(number, texts);
    fillExcerpts();
  };

  const takeHelp = (sections) => {
    help = sections.map(([href, title, below, text]) => {
      const head = below ? `${below} (${title})` : title;
      return { href, head, text, words: wordsOf(`${head} ${text}`) };
    });
    showHelp();
    showCount();
  };

  return { take, takeProse, takeHelp };
})();
