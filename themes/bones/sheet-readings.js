// What was typed, understood: as a quantity, against what is expected and what the entry says, and as what to do.
"use strict";

const SheetReadings = (data, boxes, kept, numbers) => {
  const read = SheetQuantity(data);
  const answers = SheetAnswer(data, numbers);
  const typed = (key) => kept.record.values[key]?.trim() ?? "";
  const vesselOf = (key) => (key.startsWith("fermenter") ? "fermenter" : "kettle");

  // the quantity in a box, with the temperature from the box beside it; null for an empty one
  const measured = (key) => {
    if (!typed(key)) return null;
    const { kind, unit = "" } = boxes[key];
    const found = read(typed(key), kind, kind === "gravity" ? (kept.record.scales[key] ?? "") : unit);
    const beside = `${key} at`;
    const warmed = beside in boxes && typed(beside) && !found.message && !found.at && !found.scale && found.kind !== "weight";
    if (!warmed) return found;
    const at = read(typed(beside), "temperature", boxes[beside].unit);
    const [low, high] = data.ranges.sample;
    return at.message || at.value < low || at.value > high ? found : { ...found, at, besideUsed: true };
  };

  // as the entry would have it: `same` where that is what it says already, `fault` where it can't be read; `besideUsed` where the
  // temperature from the box beside it is part of it
  const valueOf = (key) => {
    const found = measured(key);
    if (found.message) return { fault: true };
    const { planned, kind, unit } = boxes[key];
    const same = planned && !found.at && Math.abs(read(planned, kind, unit).value - found.value) < 1e-9;
    return { text: found.text + (found.at ? ` at ${found.at.text}` : ""), same, besideUsed: found.besideUsed };
  };

  const usable = (found) => (found && !found.message ? found : null);

  // L at 20 °C or SG of a box that something is expected of; null where it makes none
  const cold = (key, found) => {
    if (boxes[key].kind === "gravity") return answers.gravity(found);
    const gravityKey = key.replace(/volume$/, "gravity");
    const thick = gravityKey in boxes && usable(measured(gravityKey));
    return answers.litres(found, vesselOf(key), thick && answers.gravity(thick));
  };

  const againstExpected = (key, found) => {
    const { expected, kind } = boxes[key];
    const seen = cold(key, found);
    if (!seen) return found.kind === "weight" ? "What was weighed is a volume only by its gravity." : "The dip table has no such depth.";
    const [low, high] = expected;
    const gravity = kind === "gravity";
    if (seen.value >= low && seen.value <= high) return "";
    return `Outside what nine readings in ten show, ${numbers.range(low, high, gravity ? "SG" : "L")}${gravity ? "" : ` at ${data.cold}`}: read it again.`;
  };

  // what is to be said of a box; null if nothing
  const remarkOn = (key) => {
    const box = boxes[key];
    if (["clock", "moment", "words"].includes(box.kind) || !typed(key)) return null;
    const found = measured(key);
    if (found.message) return { fault: true, text: `${found.message}. ${found.hint}` };
    if (box.of) return null;
    const again = box.expected ? againstExpected(key, found) : "";
    if (again) return { text: again };
    if (box.kind === "volume" && found.kind === "volume" && `${key} at` in boxes && !found.at)
      return { text: `Counted as read at ${data.cold}: say beside it how hot it was.` };
    if (box.planned && !valueOf(key).same) return { text: `The entry says ${box.planned}: yours goes along as a remark.` };
    return null;
  };

  const adviceAt = (place) => {
    const { volumeBox, gravityBox } = data.answers[place];
    return answers.answer(place, usable(measured(gravityBox)), usable(measured(volumeBox)));
  };

  return { remarkOn, valueOf, adviceAt };
};
