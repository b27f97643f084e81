"use strict";
/* Exact fractions of whole numbers of any length: a reading is never rounded before it is judged. */

const Exact = (() => {
  const common = (one, other) => {
    while (other) [one, other] = [other, one % other];
    return one < 0n ? -one : one;
  };

  /** Return a fraction in lowest terms, the sign above the line. */
  const of = (top, bottom = 1n) => {
    if (bottom < 0n) [top, bottom] = [-top, -bottom];
    const by = common(top, bottom);
    return { top: top / by, bottom: bottom / by };
  };

  /** Return the fraction that a text such as "3", "-3/2" says, or null for null. */
  const read = (text) => {
    if (text === null || text === undefined) return null;
    const [top, bottom] = text.split("/");
    return of(BigInt(top), BigInt(bottom || "1"));
  };

  const nothing = of(0n);
  const add = (a, b) => of(a.top * b.bottom + b.top * a.bottom, a.bottom * b.bottom);
  const negative = (a) => ({ top: -a.top, bottom: a.bottom });
  const less = (a, b) => add(a, negative(b));
  const times = (a, b) => of(a.top * b.top, a.bottom * b.bottom);
  const over = (a, b) => of(a.top * b.bottom, a.bottom * b.top);
  const size = (a) => (a.top < 0n ? negative(a) : a);
  /** Below nothing, nothing or above it, as -1, 0 or 1: how two fractions compare. */
  const compare = (a, b) => {
    const difference = a.top * b.bottom - b.top * a.bottom;
    return difference < 0n ? -1 : difference > 0n ? 1 : 0;
  };
  const largest = (...all) => all.reduce((most, one) => (compare(one, most) > 0 ? one : most));
  const smallest = (...all) => all.reduce((least, one) => (compare(one, least) < 0 ? one : least));
  const power = (places) => of(10n ** BigInt(places));
  const step = (places) => of(1n, 10n ** BigInt(places));
  const floor = (a) => {
    const whole = a.top / a.bottom;
    return a.top < 0n && whole * a.bottom !== a.top ? whole - 1n : whole;
  };

  const half = of(1n, 2n);
  const nearest = (a, places) => floor(add(times(a, power(places)), half));

  /** Write a number with so many decimals, rounded to the nearest, with a real minus sign. */
  const decimal = (a, places) => {
    const digits = String(nearest(size(a), places)).padStart(places + 1, "0");
    const rest = digits.slice(digits.length - places);
    const whole = digits.slice(0, digits.length - places);
    const sign = a.top < 0n && /[1-9]/.test(digits) ? "−" : "";
    return `${sign}${whole}${places ? `.${rest}` : ""}`;
  };

  const side = (a, low, high) => {
    if (low && compare(a, low) < 0) return -1;
    return high && compare(a, high) > 0 ? 1 : 0;
  };

  /** Write a number as exactly as few decimals can, never on another side of a limit. */
  const written = (a, low = null, high = null) => {
    for (let places = 0; places < 6; places += 1) {
      if (times(a, power(places)).bottom === 1n) return decimal(a, places);
    }
    let places = 0;
    while (compare(times(size(a), power(places)), power(2)) < 0 && places < 6) places += 1;
    for (; places < 12; places += 1) {
      const rounded = of(nearest(a, places), 10n ** BigInt(places));
      if (side(rounded, low, high) === side(a, low, high)) return decimal(rounded, places);
    }
    return decimal(a, 12);
  };

  /** Write a figure with its unit. */
  const spelt = (a, symbol, low = null, high = null) =>
    `${written(a, low, high)}${["", "°", "%"].includes(symbol) ? "" : " "}${symbol}`;

  return {
    of, read, nothing, add, less, negative, times, over, size, compare, largest, smallest, step,
    power, spelt,
  };
})();
