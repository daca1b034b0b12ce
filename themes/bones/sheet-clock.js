// Times of the day's clock, and what falls due by them. Only beginnings are kept and what is left is worked out from the clock
// each time anybody looks, so a locked screen, a reload or a lost window costs no second; sound and vibration come as late as the
// browser wakes the page.
"use strict";

const SheetClock = (() => {
  const MINUTE = 60_000;
  // a timer that nobody ended is forgotten after half a day
  const STALE = 12 * 60 * MINUTE;
  const two = (number) => String(number).padStart(2, "0");

  // local time, as entries have it
  const written = (moment) =>
    `${moment.getFullYear()}-${two(moment.getMonth() + 1)}-${two(moment.getDate())}` +
    `T${two(moment.getHours())}:${two(moment.getMinutes())}:${two(moment.getSeconds())}`;

  const now = () => written(new Date());
  const at = (text) => new Date(text).getTime();

  // A time typed by hand is of today, or of yesterday where that lies ahead by more than an hour; a date that was kept stays.
  const typed = (time, before) => {
    if (before) return `${before.slice(0, 10)}T${time}:00`;
    const moment = new Date();
    const [hours, minutes] = time.split(":").map(Number);
    moment.setHours(hours, minutes, 0, 0);
    if (moment.getTime() > Date.now() + 60 * MINUTE) moment.setDate(moment.getDate() - 1);
    return written(moment);
  };

  // everything that is still to come of what has begun, the next first: key, box, when it is due, what it is
  const due = (boxes, { values, done }) =>
    Object.entries(boxes)
      .flatMap(([key, box]) => {
        const [begin, minutes] = box.after ?? [key, box.minutes];
        const over = key.endsWith(" from") && values[key.replace(/ from$/, " to")];
        if (!minutes || !values[begin] || over || done[key] === values[begin]) return [];
        if (box.after && values[key]) return [];
        const when = at(values[begin]) + minutes * MINUTE;
        const gone = !(Date.now() - when < STALE);
        return gone ? [] : [{ key, box, when, begun: values[begin] }];
      })
      .sort((a, b) => a.when - b.when);

  // 4:05, 1:04:05; behind time with a minus
  const left = (when) => {
    const seconds = Math.round((when - Date.now()) / 1000);
    const all = Math.abs(seconds);
    const hours = Math.floor(all / 3600);
    const text = `${hours ? `${hours}:${two(Math.floor(all / 60) % 60)}` : Math.floor(all / 60)}:${two(all % 60)}`;
    return seconds < 0 ? `−${text}` : text;
  };

  let sound = null;
  // a browser lets a page sound only after a touch
  const allowSound = () => {
    try {
      sound ??= new AudioContext();
      sound.resume();
    } catch {
      sound = null;
    }
  };

  const ring = () => {
    navigator.vibrate?.([400, 200, 400, 200, 400]);
    if (!sound) return;
    for (const start of [0, 0.5, 1]) {
      const tone = sound.createOscillator();
      tone.frequency.value = 880;
      tone.connect(sound.destination);
      tone.start(sound.currentTime + start);
      tone.stop(sound.currentTime + start + 0.25);
    }
  };

  // the screen stays on while something runs, where a browser lets a page ask for that
  let awake = null;
  const keepAwake = async (wanted) => {
    try {
      if (wanted && !awake && document.visibilityState === "visible") {
        awake = await navigator.wakeLock.request("screen");
        awake.addEventListener("release", () => (awake = null));
      } else if (!wanted && awake) await awake.release();
    } catch {
      awake = null;
    }
  };

  return { now, at, typed, due, left, allowSound, ring, keepAwake };
})();
