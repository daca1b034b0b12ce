// Numbers as the journal shows and writes them: the same digits as its pages and commands have. `shown` says by unit what the
// brewery sees it in; numbers come in L at 20 °C, SG, kg and minutes.
"use strict";

const SheetNumbers = ({ system, shown, ounces, gallons, steps }) => {
  const us = system === "us";
  const MOST_DECIMALS = 6;
  const LEAST_SPREAD = 0.5e-6;

  // a proper minus sign, and never a negative zero
  const plain = (number, decimals) => {
    const text = number.toFixed(decimals);
    return Number(text) === 0 ? text.replace("-", "") : text.replace("-", "−");
  };

  // an uncertainty is worth its first digit, and its second where the first is 1
  const decimalsOf = (sd) => {
    const exponent = Math.floor(Math.log10(sd));
    const first = Math.trunc(sd / 10 ** exponent + 1e-9);
    return Math.max(0, (first <= 1 ? 1 : 0) - exponent);
  };

  const withSign = (text, sign) => (sign ? `${text} ${sign}` : text);

  const show = (value, sd, unit) => {
    const { sign, decimals, scale, offset } = shown[unit];
    const number = value * scale + offset;
    const spread = Math.abs(sd * scale);
    if (!(spread >= LEAST_SPREAD && Number.isFinite(spread))) return withSign(plain(number, decimals), sign);
    const places = Math.min(decimalsOf(spread), MOST_DECIMALS);
    return withSign(`${plain(number, places)} ± ${plain(spread, places)}`, sign);
  };

  const range = (low, high, unit) => {
    const { sign, decimals, scale, offset } = shown[unit];
    const [first, last] = [low * scale + offset, high * scale + offset];
    const wide = last - first;
    const places = wide > 0 ? Math.min(Math.max(0, 1 - Math.floor(Math.log10(wide))), decimals) : decimals;
    return withSign(`${plain(first, places)} to ${plain(last, places)}`, sign);
  };

  // a half goes to the even number, as the commands have it: amounts that were rounded once lie on halves
  const whole = (number) => (number % 1 === 0.5 ? 2 * Math.round(number / 2) : Math.round(number));

  // to the nearest step, which is a short decimal, and no zeros at the end
  const stepped = (value, step) => Number((whole(value / step) * step).toFixed(4));

  const stepOf = ({ below, above }, amount) => (below.find(([most]) => amount < most) ?? [0, above])[1];

  const pounds = (kilograms) => {
    const weight = kilograms * ounces;
    const whole = stepped(weight, stepOf(steps.ounces, weight));
    const heavy = Math.floor(whole / 16);
    const rest = Number((whole - 16 * heavy).toFixed(4));
    return [heavy > 0 && `${heavy} lb`, (rest > 0 || heavy === 0) && `${rest} oz`].filter(Boolean).join(" ");
  };

  // what a scale's last digit is goes by how much lies on it
  const weight = (kilograms) => {
    if (us) return pounds(kilograms);
    const grams = stepped(kilograms * 1000, stepOf(steps.grams, kilograms));
    return grams < 1000 ? `${grams} g` : `${(grams / 1000).toFixed(2)} kg`;
  };

  const volume = (litres) => {
    if (us) {
      const whole = stepped(litres * gallons, 0.05);
      return whole >= 1 ? `${whole.toFixed(2)} gal` : `${stepped(litres * gallons * 4, 0.05).toFixed(2)} qt`;
    }
    if (litres > 0 && litres < 1) return `${stepped(litres * 1000, litres < 0.1 ? 1 : 10)} mL`;
    return `${stepped(litres, 0.1).toFixed(1)} L`;
  };

  const time = (minutes) => `${whole(minutes)} min`;

  return { plain, show, range, whole, weight, volume, time, us };
};
