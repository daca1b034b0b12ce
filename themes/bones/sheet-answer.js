// What readings at the full kettle and at knockout mean, and what would bring the brew to its target: the answer of `wortbook
// correct`. No formula of brewing stands here: the build put series into the page, and these are added up.
"use strict";

const SheetAnswer = ({ reading, answers, boiled }, numbers) => {
  // half-widths of the interval beyond which a reading is to be taken again, beyond which nothing is made of it, and below which it is just out
  const FAR = 3;
  const BEYOND = 5;
  const JUST = 1.1;
  const WORTH_CORRECTING = 0.001;

  // a sum of c T_i(x) T_j(y), its terms written as i, j, c one after the other
  const sum = (terms, x, y) => {
    const [one, other] = [x, y].map((value) => Math.acos(Math.min(1, Math.max(-1, value))));
    let total = 0;
    for (let n = 0; n < terms.length; n += 3) total += terms[n + 2] * Math.cos(terms[n] * one) * Math.cos(terms[n + 1] * other);
    return total;
  };

  const curve = ({ ranges, terms }, ...values) => {
    const [x, y = 0] = ranges.map(([low, high], n) => (2 * values[n] - low - high) / (high - low));
    return sum(terms, x, y);
  };

  const STEP = 1e-4;
  const slope = (of, value) => (of(value + STEP) - of(value - STEP)) / (2 * STEP);
  const hypot = Math.hypot;

  // a thermometer's reading as it should have been, with its uncertainty; both by what its last check found
  const warmth = (shown) => {
    const error = reading.thermometer;
    if (!error) return { value: shown, sd: reading.temperatureSd };
    const value = shown - error.size - error.slope * (shown - error.at);
    return { value, sd: hypot((1 - error.slope) * reading.temperatureSd, error.sd) };
  };

  const NO_ERROR = { size: 0, sd: 0 };
  const uncertainty = ([least, share], { value, sd }) => sd ?? Math.max(least, share * value);

  // what was weighed fills so much by its strength, which must be known
  const weighed = (read, thick) => {
    if (!thick) return null;
    const error = reading.scale ?? NO_ERROR;
    const factor = 1 + error.size;
    const mass = read.value / factor;
    const fills = (each) => curve(reading.fills, each);
    const own = hypot(uncertainty(reading.weightSd, read) / factor, (error.sd * mass) / factor);
    return { value: mass * fills(thick.value), sd: hypot(own * fills(thick.value), mass * slope(fills, thick.value) * thick.sd) };
  };

  // what a vessel holds by how deep a stick in it is wet, straight from mark to mark
  const dipped = (read, marks) => {
    const holds = (depth) => {
      const upper = marks.findIndex(([mark], n) => n > 0 && depth <= mark);
      const [[low, less], [high, more]] = marks.slice(upper < 0 ? -2 : upper - 1, upper < 0 ? undefined : upper + 1);
      return less + ((more - less) * (depth - low)) / (high - low);
    };
    if (!marks || read.value < marks[0][0] || read.value > marks.at(-1)[0]) return null;
    return { value: holds(read.value), sd: slope(holds, read.value) * (read.sd ?? reading.dipSd) };
  };

  // L at 20 °C of what was read in a vessel, kettle or fermenter: by its marks, by a dip stick, or weighed, of a wort so `thick`.
  // Null where one of these doesn't make a volume of it.
  const litres = (read, vessel, thick) => {
    if (read.kind === "weight") return weighed(read, thick);
    const shown =
      read.kind === "depth" ? dipped(read, reading.dips[vessel]) : { value: read.value, sd: uncertainty(reading.volumeSd, read) };
    if (!shown) return null;
    const error = reading[vessel] ?? NO_ERROR;
    const factor = 1 + error.size;
    const value = shown.value / factor;
    const sd = hypot(shown.sd / factor, (error.sd * value) / factor);
    if (!read.at) return { value, sd };
    const shrinks = (degrees) => curve(reading.shrinks, degrees);
    const warm = warmth(read.at.value);
    const ratio = shrinks(warm.value);
    return { value: value * ratio, sd: hypot(sd * ratio, value * slope(shrinks, warm.value) * warm.sd) };
  };

  const strength = (plato) => curve(reading.strength, plato);

  const brix = ({ value, sd }) => {
    const [factor, factorSd] = reading.wortFactor;
    const error = reading.refractometer ?? NO_ERROR;
    const plato = (value - error.size) / factor;
    const rise = slope(strength, plato) / factor;
    return { value: strength(plato), sd: rise * hypot(sd ?? reading.brixSd, error.sd, plato * factorSd) };
  };

  const hydrometer = ({ value, sd, at }) => {
    const error = reading.hydrometer ?? NO_ERROR;
    const shown = value - error.size;
    const own = hypot(sd ?? reading.pointsSd, error.sd);
    if (!at && reading.calibratedAt === 20) return { value: shown, sd: own };
    const warm = at ? warmth(at.value) : { value: reading.calibratedAt, sd: 0 };
    const byReading = slope((each) => curve(reading.warm, each, warm.value), shown) * own;
    const byHeat = slope((each) => curve(reading.warm, shown, each), warm.value) * warm.sd;
    return { value: curve(reading.warm, shown, warm.value), sd: hypot(byReading, byHeat) };
  };

  // SG 20/20 of wort, on whatever scale it was read
  const gravity = (read) => {
    if (read.scale === "°Bx") return brix(read);
    if (!read.scale) return hydrometer(read);
    const error = reading.hydrometer ?? NO_ERROR;
    const own = read.sd === null ? reading.pointsSd : slope(strength, read.value) * read.sd;
    return { value: strength(read.value) - error.size, sd: hypot(own, error.sd) };
  };

  // The belief after readings, as the journal's own correction moves it. `rows` are those of what was read: 0 volume, 1 gravity.
  const believe = (place, rows, read) => {
    const spread = rows.map((a, m) => rows.map((b, n) => place.prior[a][b] + (m === n ? read[m].sd ** 2 : 0)));
    const solve =
      rows.length === 1
        ? ([a]) => [a / spread[0][0]]
        : ([a, b]) => {
            const [[p, q], [r, s]] = spread;
            const size = p * s - q * r;
            return [(s * a - q * b) / size, (p * b - r * a) / size];
          };
    const spreadOver = (moved, a) => rows.reduce((total, b, n) => total + place.prior[a][b] * moved[n], 0);
    let moved = rows.map(() => 0);
    let at = [0, 0];
    const turn = () => {
      const whole = [0, 1].map((row) => moved[rows.indexOf(row)] ?? 0);
      at = place.turn.map(([a, b]) => a * whole[0] + b * whole[1]);
      return at.every((each) => Math.abs(each) <= 1 + 1e-9);
    };
    const seen = ["volume", "gravity"];
    for (let step = 0; step < place.steps; step += 1) {
      if (!turn()) return null;
      moved = solve(rows.map((a, n) => read[n].value - sum(place.series[seen[a]], ...at) + spreadOver(moved, a)));
    }
    if (!turn()) return null;
    const left = [0, 1].map((a) => {
      const known = solve(rows.map((b) => place.prior[a][b]));
      return Math.sqrt(Math.max(0, place.prior[a][a] - rows.reduce((total, b, n) => total + place.prior[a][b] * known[n], 0)));
    });
    return { of: (name) => sum(place.series[name], ...at), left };
  };

  const whole = (value, step) => step * numbers.whole(value / step);

  const amount = {
    boil: (minutes) => numbers.time(whole(minutes, 5)),
    water: (litres) => numbers.volume(litres),
    extract: (kilograms) => {
      const grams = kilograms * 1000;
      return numbers.weight(numbers.us ? kilograms : whole(grams, grams < 200 ? 10 : 25) / 1000);
    },
  };

  const DO = {
    boil: (minutes) => `boil ${amount.boil(minutes)} in all${boiled ? ` instead of ${numbers.time(boiled)}` : ""}`,
    water: (litres) => `add ${amount.water(litres)} of water`,
    "malt extract": (kilograms) => `stir in ${amount.extract(kilograms)} of dried malt extract`,
    sugar: (kilograms) => `stir in ${amount.extract(kilograms)} of sugar`,
  };

  const lands = (litres, gravityThere) =>
    `${numbers.show(litres, 0, "L")} at ${numbers.plain(gravityThere, 4)}`;

  const remedies = (place, believed) =>
    Object.keys(DO)
      .filter((kind) => kind in place.series)
      .map((kind) => [kind, believed.of(kind)])
      .filter(([, much]) => much > 0)
      .map(([kind, much]) => `${DO[kind](much)}: ${lands(believed.of(`${kind} lands`), place.target)} in the fermenter`);

  const NAMES = ["volume", "gravity"];
  const UNITS = ["L", "SG"];

  // The answer for readings as `SheetQuantity` gives them, null for what was not read; null where nothing was: `read` is a line for each, `advice` lines of
  // what to do, `again` whether to read again first.
  const answer = (name, gravityRead, volumeRead) => {
    const place = answers[name];
    const thick = gravityRead && gravity(gravityRead);
    const known = [volumeRead && litres(volumeRead, "kettle", thick), thick];
    const rows = [0, 1].filter((row) => known[row]);
    if (!rows.length) return null;
    const read = rows.map((row) => known[row]);
    const far = rows.map((row, n) => {
      const half = place.coverage * Math.sqrt(place.prior[row][row] + read[n].sd ** 2);
      return { half, off: (read[n].value - place.expected[row]) / half };
    });
    const lines = rows.map((row, n) => {
      const { half, off } = far[n];
      const [low, high] = [place.expected[row] - half, place.expected[row] + half];
      const shown = row === 0 ? numbers.show(read[n].value, 0, "L") : numbers.plain(read[n].value, 4);
      const just = Math.abs(off) < JUST ? "just " : "";
      const beside = off < -1 ? `, ${just}below the expected` : off > 1 ? `, ${just}above the expected` : "; expected";
      return `${NAMES[row].padEnd(8)} ${shown} as it counts${beside} ${numbers.range(low, high, UNITS[row])}`;
    });
    const wild = rows.filter((row, n) => Math.abs(far[n].off) > FAR).map((row) => NAMES[row]);
    const advice = [];
    if (wild.length) advice.push(`Read the ${wild.join(" and the ")} again first: so far off, a slip is likelier than such a brew.`);
    const again = wild.length > 0;
    if (far.some(({ off }) => Math.abs(off) > BEYOND)) {
      advice.push("If it shows the same again, see whether grist and liquor went in as the entry says; put that right, then ask again.");
      return { read: lines, advice, again };
    }
    const believed = believe(place, rows, read);
    if (!believed) {
      advice.push("That is too far from the plan for this page to say what to do: ask wortbook correct.");
      return { read: lines, advice, again };
    }
    const [volume, strong] = ["volume", "gravity"].map((each) => believed.of(each));
    lines.push(
      `best estimate ${numbers.show(strong, believed.left[1], "SG")} and ${numbers.show(volume, believed.left[0], "L")} at 20 °C, ` +
        "readings and plan weighed together",
      `as it is, ${lands(believed.of("fermenter_volume"), believed.of("original_gravity"))} will be in the fermenter`,
    );
    if (Math.abs(believed.of("original_gravity") - place.target) <= WORTH_CORRECTING)
      advice.push("Leave it: that is the target, within a point.");
    else advice.push("To reach the target, one of these:", ...remedies(place, believed));
    return { read: lines, advice, again };
  };

  return { answer, litres, gravity };
};
