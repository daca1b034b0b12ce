// Reads what is typed into a box by the rules of the journal's format: a number, perhaps its ±, a unit, perhaps `at` a
// temperature. What it can't read it says as `check` would. Two things it allows and writes out properly: a number alone
// counts in the unit that stands beside the box, and a comma may be the decimal point where it can mean nothing else, for
// the number pads of many phones have no other.
"use strict";

const SheetQuantity = ({ kinds, otherUnits, ranges }) => {
  const NUMBER = /^[+-]?(?:\d+(?:\.\d+)?|\.\d+)/;
  const SIGNS = { "½": 1 / 2, "¼": 1 / 4, "¾": 3 / 4, "⅓": 1 / 3, "⅔": 2 / 3, "⅛": 1 / 8, "⅜": 3 / 8, "⅝": 5 / 8, "⅞": 7 / 8 };
  const FRACTION = /^(?:(\d+)(?:[ \u00a0\u2009-]|(?=[½¼¾⅓⅔⅛⅜⅝⅞])))?(?:(\d{1,2})\/(\d{1,2})(?![\d/.,])|([½¼¾⅓⅔⅛⅜⅝⅞]))/;
  const PLUS_MINUS = /^\s*(?:±|\+\/-)\s*/;
  const AT = /^\s+at(?:\s+|$)/;
  const LARGEST = 1e12;
  const STRENGTHS = { "°P": "°P", P: "°P", Plato: "°P", "°Bx": "°Bx", Bx: "°Bx", Brix: "°Bx" };
  const GRAVITY_EXAMPLE = "1.048, 12.0 °P or 12.4 °Bx";

  class Refusal extends Error {
    constructor(message, hint) {
      super(message);
      this.hint = hint;
    }
  }

  // how far a text is read
  class Cursor {
    constructor(text) {
      this.rest = text;
    }

    take(pattern) {
      const found = pattern.exec(this.rest);
      if (found) this.rest = this.rest.slice(found[0].length);
      return found;
    }

    skipSpace() {
      this.take(/^\s+/);
    }
  }

  const numberOf = (cursor, example) => {
    const fraction = FRACTION.exec(cursor.rest);
    if (fraction) {
      const [whole, top, bottom, sign] = fraction.slice(1);
      const part = sign ? SIGNS[sign] : top / bottom;
      if (part > 0 && part < 1 && !(bottom > 16)) {
        cursor.take(FRACTION);
        return { value: Number(whole ?? 0) + part, text: fraction[0].trim() };
      }
    }
    if (/^[+-]?[\d.]+[eE][+-]?\d|^[+-]?\.?(?:nan|inf)/i.test(cursor.rest))
      throw new Refusal(`“${cursor.rest}” is not a plain finite number`, `Write a number as in ${example}.`);
    if (/^[+-]?\d{1,3}(?:[ \u00a0\u2009\u202f'’_]\d{3}|(?:\.\d{3}){2,})(?!\d)/.test(cursor.rest))
      throw new Refusal(`“${cursor.rest}” has a separator between thousands`, "Leave it out.");
    const found = cursor.take(NUMBER);
    if (!found) throw new Refusal(`“${cursor.rest}” does not start with a number`, `Write it like this: ${example}.`);
    const value = Number(found[0]);
    if (Math.abs(value) > LARGEST) throw new Refusal(`${found[0]} can't be meant`, `Write it like this: ${example}.`);
    return { value, text: found[0] };
  };

  // a decimal comma, where it is one: three digits after it may be thousands, but never of a gravity
  const withPoint = (text, gravity) => {
    const comma = /^[+-]?\d+,(\d+)/.exec(text);
    if (!comma) return text;
    const decimal = comma[1].length !== 3 || /^0,/.test(text) || (gravity && /^1,/.test(text));
    if (!decimal || /^[+-]?\d+,\d+[.,]/.test(text))
      throw new Refusal(`“${comma[0]}” has a comma that may be one between thousands`, "Write it with a decimal point.");
    return text.replace(",", ".");
  };

  const uncertaintyOf = (cursor, example) => {
    if (!cursor.take(PLUS_MINUS)) return null;
    const sd = numberOf(cursor, example);
    if (sd.value <= 0) throw new Refusal("an uncertainty has to be above 0", "Leave the ± out where you don't know it.");
    return sd;
  };

  const startsUnit = (rest, spelling) =>
    rest.startsWith(spelling) && !/^[\p{L}_°%/]/u.test(rest.slice(spelling.length));

  // the registered unit that stands here and how it is spelt; `beside` where none does
  const unitOf = (cursor, kind, beside) => {
    // `at` wants the space before it, so that stays where no unit does
    const before = cursor.rest;
    cursor.skipSpace();
    const { rest } = cursor;
    const bare = !rest || AT.test(` ${rest}`) || PLUS_MINUS.test(rest);
    const none = "" in kind.units ? "" : beside;
    if (bare && none in kind.units) {
      cursor.rest = before;
      return { spelling: none, unit: kind.units[none] };
    }
    if ("" in kind.units) throw new Refusal(`“${rest}” follows the number, and no unit belongs there`, "Write the number alone.");
    const spelling = Object.keys(kind.units)
      .sort((a, b) => b.length - a.length)
      .find((text) => startsUnit(rest, text));
    if (spelling) {
      cursor.rest = rest.slice(spelling.length);
      if (/\p{L}$/u.test(spelling)) cursor.take(/^\.(?!\d)/);
      return { spelling, unit: kind.units[spelling] };
    }
    const word = /^[^\s\d]+/.exec(rest)?.[0] ?? rest;
    const hint = `Write it like this: ${kind.example}.`;
    const ours = Object.values(kinds).find((each) => Object.hasOwn(each.units, word))?.called.replace(/^an? /, "");
    const other = ours ?? (Object.hasOwn(otherUnits, word) ? otherUnits[word] : "");
    if (other) throw new Refusal(`“${word}” is a unit of ${other}, and this must be ${kind.called}`, hint);
    throw new Refusal(`“${word}” is no unit of ${kind.called.replace(/^an? /, "")} that the journal knows`, hint);
  };

  const toKept = ([scale, offset], number) => scale * number + offset;

  // a temperature behind `at`, °C
  const sampleOf = (cursor) => {
    if (!cursor.take(AT)) return null;
    const number = numberOf(cursor, "25 L at 65 degC");
    const { spelling, unit } = unitOf(cursor, kinds.temperature, "");
    const value = toKept(unit, number.value);
    const [low, high] = ranges.sample;
    if (!(value >= low && value <= high)) throw new Refusal(`no wort is liquid at ${number.text} ${spelling}`, "Check the unit.");
    return { value, text: `${number.text} ${spelling}` };
  };

  // `9 lb 8 oz`: what follows the first number and unit, from the larger to the smaller
  const compoundOf = (cursor, kind, first, total) => {
    let written = "";
    for (let last = first; kind.compound.includes(last.unit[2]); ) {
      cursor.skipSpace();
      if (!/^[.\d½¼¾⅓⅔⅛⅜⅝⅞]/.test(cursor.rest)) break;
      const number = numberOf(cursor, kind.example);
      const next = unitOf(cursor, kind, "");
      if (kind.compound.indexOf(next.unit[2]) <= kind.compound.indexOf(last.unit[2]))
        throw new Refusal("the larger unit comes first", "Write it like this: 9 lb 8 oz.");
      total += toKept(next.unit, number.value);
      written += ` ${number.text} ${next.spelling}`;
      last = next;
    }
    return { total, written };
  };

  const nothingLeft = (cursor, example) => {
    cursor.skipSpace();
    if (cursor.rest) throw new Refusal(`“${cursor.rest}” is left over after the quantity`, `Write it like this: ${example}.`);
  };

  const inRange = (value, number, kind, text) => {
    const below = kind.zero ? value < kind.low || (number < 0 && !kind.negative) : !(value > 0);
    if (below) {
      throw new Refusal(
        number <= 0 && !kind.negative ? (kind.zero ? "it can't be below 0" : "it has to be above 0") : `${text} can't be meant here`,
        `Write it like this: ${kind.example}.`,
      );
    }
    if (kind.high !== null && value > kind.high)
      throw new Refusal(`${text} is more than ${kind.called} can be`, `Check the unit, or write it like this: ${kind.example}.`);
  };

  const measure = (text, name, beside) => {
    // a vessel may be weighed, or dipped with a stick
    const word = name === "volume" && /[\p{L}]+/u.exec(text)?.[0];
    const as = ["weight", "depth"].find((other) => word && Object.hasOwn(kinds[other].units, word)) ?? name;
    const kind = kinds[as];
    const cursor = new Cursor(withPoint(text, false));
    const number = numberOf(cursor, kind.example);
    const sd = uncertaintyOf(cursor, kind.example);
    const found = unitOf(cursor, kind, beside);
    const { total, written } = compoundOf(cursor, kind, found, toKept(found.unit, number.value));
    if (written && sd) throw new Refusal("a weight in two units takes no ±", "Write it in one unit, such as 9.5 ± 0.1 lb.");
    const at = sampleOf(cursor);
    if (at && !kind.at) throw new Refusal(`${kind.called} does not change with a temperature`, `Write it like this: ${kind.example}.`);
    nothingLeft(cursor, kind.example);
    inRange(total, number.value, kind, text);
    const said = `${number.text}${sd ? ` ± ${sd.text}` : ""} ${found.spelling}`.trimEnd() + written;
    return { kind: as, value: total, sd: sd && sd.value * found.unit[0], at, text: said };
  };

  const gravity = (text, beside) => {
    const cursor = new Cursor(withPoint(text, true));
    const number = numberOf(cursor, GRAVITY_EXAMPLE);
    const sd = uncertaintyOf(cursor, GRAVITY_EXAMPLE);
    const before = cursor.rest;
    cursor.skipSpace();
    const word = /^[^\s\d]+/.exec(cursor.rest)?.[0];
    let scale = beside;
    if (word && word !== "at") {
      if (!Object.hasOwn(STRENGTHS, word)) throw new Refusal(`“${word}” is no unit of gravity`, `Write it like this: ${GRAVITY_EXAMPLE}.`);
      scale = STRENGTHS[word];
      cursor.rest = cursor.rest.slice(word.length);
    } else cursor.rest = before;
    const at = sampleOf(cursor);
    if (at && scale) throw new Refusal(`${scale} takes no temperature`, "Write the strength alone.");
    nothingLeft(cursor, GRAVITY_EXAMPLE);
    const [low, high] = scale ? ranges.strength : ranges.hydrometer;
    if (!(number.value >= low && number.value <= high)) {
      const why = scale ? `${text} can't be a strength of wort or beer` : `${number.text} is no gravity a hydrometer shows`;
      throw new Refusal(why, scale ? `Write it like this: ${GRAVITY_EXAMPLE}.` : "Strengths have another scale: choose it beside the box.");
    }
    const said = `${number.text}${sd ? ` ± ${sd.text}` : ""}${scale ? ` ${scale}` : ""}`;
    return { kind: "gravity", scale, value: number.value, sd: sd?.value ?? null, at, text: said };
  };

  // What a text means, `text` as the entry will have it; or `message` and `hint`. `unit` counts where none is written.
  return (text, kind, unit = "") => {
    try {
      const trimmed = text.trim();
      return kind === "gravity" ? gravity(trimmed, unit) : measure(trimmed, kind, unit);
    } catch (refused) {
      if (!(refused instanceof Refusal)) throw refused;
      return { message: refused.message, hint: refused.hint };
    }
  };
};
