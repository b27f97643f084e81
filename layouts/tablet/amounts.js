"use strict";
/* Figures as people type them: many dashes and spaces, decimal commas, fractions, and one unit.
   The grammar is the program's own (`sequencer/model/quantities.py`); the tests compare the two. */

/** Text that is not a figure: what is wrong, and what to type. */
class AmountFault extends Error {
  constructor(what, fix) {
    super(what);
    this.what = what;
    this.fix = fix;
  }
}

const Amounts = (() => {
  const SAME = {};
  for (const letter of "\u00a0\u2000\u2001\u2002\u2003\u2004\u2005\u2006\u2007\u2008\u2009\u200a\u202f\u205f\u3000") SAME[letter] = " ";
  for (const letter of "\u2212\u2010\u2011\u2012\u2013\u2014") SAME[letter] = "-";
  for (const letter of "\u22c5\u2219\u2022") SAME[letter] = "·";
  for (const letter of "\u201c\u201d\u2033") SAME[letter] = '"';
  for (const letter of "\u2018\u2019\u2032") SAME[letter] = "'";
  Object.assign(SAME, { "\u03bc": "µ", "\u2126": "Ω", "\u03a9": "Ω", "\u00ba": "°", "\u2044": "/" });

  /** Return the text with the many dashes, spaces, quotes and twin letters made one of each. */
  const plainText = (text) => Array.from(text, (letter) => SAME[letter] || letter).join("");

  const DIGITS = "[0-9]{1,3}(?:[ '][0-9]{3})+(?![0-9])|[0-9]+";
  const PLAIN = `(?:(?:${DIGITS})(?:[.,][0-9]+)?|[.,][0-9]+)(?:[eE][+-]?[0-9]{1,3})?`;
  const WRITTEN = "(?:(?<whole>[0-9]+)[ -])?(?<top>[0-9]+)\\s?/\\s?(?<bottom>[0-9]+)(?![0-9])";
  const ONE_SIGN = "(?:(?<before>[0-9]+)\\s?)?(?<sign>[¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞])";
  const NUMBER = new RegExp(`${ONE_SIGN}|${WRITTEN}|(?<plain>${PLAIN})`, "y");
  const SIGN = /[+-]\s?/y;
  const DOUBTFUL = /[1-9][0-9]{0,2},[0-9]{3}(?![0-9.,])/y;
  const SEVERAL_MARKS = /[0-9]+(?:[.,][0-9]+){2,}/y;
  const AT_MOST = /(?:at most|up to|not more than|no more than|max\.?|maximum)\s+|(?:≤|<=)\s*/iy;
  const AT_LEAST = /(?:at least|not less than|no less than|min\.?|minimum)\s+|(?:≥|>=)\s*/iy;
  const MOST_AFTER = /\s*(?:max\.?|maximum)\s*$/iy;
  const LEAST_AFTER = /\s*(?:min\.?|minimum)\s*$/iy;
  const TO = /\s*(?:\bto\b|\.\.\.?|…|-)\s*/iy;
  const PLUS_MINUS = /\s*(?:±|\+\s?\/\s?-|\+-)\s*/y;
  const PERCENT = /\s*%\s*/y;
  const STRICT = /[<>]/y;
  const UNEQUAL = new RegExp(
    `\\s*(?:\\+\\s?(?<up>${PLAIN})\\s*/?\\s*-\\s?(?<down>${PLAIN})` +
      `|-\\s?(?<firstDown>${PLAIN})\\s*/?\\s*\\+\\s?(?<thenUp>${PLAIN}))\\s*`,
    "y",
  );
  const LONGEST = 200;
  const LONGEST_UNIT = 20;
  const LARGEST_EXPONENT = 15;

  let table = new Map();
  let noUnits = [];

  /** Take the units of the page's data into use, and what looks like a unit and is none. */
  const useUnits = (units, others) => {
    table = new Map();
    noUnits = others;
    for (const unit of units) {
      const known = { ...unit, factor: Exact.read(unit.factor), offset: Exact.read(unit.offset) };
      if (!table.has(unit.quantity)) table.set(unit.quantity, new Map());
      for (const spelling of unit.spellings) table.get(unit.quantity).set(spelling, known);
    }
  };
  const quantities = () => [...table.keys()];

  const lookup = (spelling, wanted) => {
    const tidy = spelling.replace(/\s+/g, " ").replace(/\s*([·*.-])\s*/g, "$1");
    for (const quantity of wanted) {
      const names = table.get(quantity);
      const unit = names.get(tidy) || names.get(tidy.replace(/\.+$/, ""));
      if (unit) return unit;
    }
    return null;
  };

  const aThing = (word) => `${"aeiou".includes(word[0]) ? "an" : "a"} ${word}`;

  /** The text still to be read. */
  class Cursor {
    constructor(text) {
      this.text = plainText(text);
      this.at = 0;
      this.skipSpaces();
    }
    get rest() {
      return this.text.slice(this.at).trimEnd();
    }
    skipSpaces() {
      const rest = this.text.slice(this.at);
      this.at += rest.length - rest.trimStart().length;
    }
    take(pattern) {
      pattern.lastIndex = this.at;
      const found = pattern.exec(this.text);
      if (found) this.at = pattern.lastIndex;
      return found;
    }
    sees(pattern) {
      pattern.lastIndex = this.at;
      return pattern.exec(this.text);
    }
    number() {
      this.refuseDoubtful();
      const found = this.take(NUMBER);
      if (!found) {
        const whole = this.text.trim();
        const what = whole ? `\`${whole}\` has no number where one belongs` : "a figure is missing";
        throw new AmountFault(what, "write a number and a unit, such as `12.5 mm`");
      }
      return found.groups.plain ? decimal(found.groups.plain) : fraction(found);
    }
    signed() {
      const sign = this.take(SIGN);
      const number = this.number();
      if (sign && sign[0].startsWith("-")) number.value = Exact.negative(number.value);
      return number;
    }
    refuseDoubtful() {
      const doubtful = this.sees(DOUBTFUL);
      if (doubtful) {
        const typed = doubtful[0];
        throw new AmountFault(
          `\`${typed}\` could be thousands or a decimal comma`,
          `write \`${typed.replace(",", "")}\` or \`${typed.replace(",", ".")}\`, as is meant`,
        );
      }
      const several = this.sees(SEVERAL_MARKS);
      if (several) {
        throw new AmountFault(
          `\`${several[0]}\` has more than one decimal mark`,
          "write the number with one decimal point and no other mark",
        );
      }
    }
    unitHere(wanted) {
      this.skipSpaces();
      const { rest } = this;
      for (let length = Math.min(rest.length, LONGEST_UNIT); length > 0; length -= 1) {
        const piece = rest.slice(0, length);
        const last = piece[length - 1];
        const isLetter = (letter) => /[\p{L}\p{N}]/u.test(letter);
        const cutShort = isLetter(rest.slice(length, length + 1)) && (isLetter(last) || last === "°");
        const noUnit = cutShort || piece !== piece.trim() || /^\.+$/.test(piece); // `..` is a range
        const unit = noUnit ? null : lookup(piece, wanted);
        if (unit) {
          this.at += length;
          return unit;
        }
      }
      return null;
    }
    unitToEnd(wanted) {
      this.skipSpaces();
      const { rest } = this;
      const unit = lookup(rest, wanted);
      if (!unit) throw this.unitFault(rest, wanted);
      this.at = this.text.length;
      return unit;
    }
    sameUnit(wanted, unit) {
      this.skipSpaces();
      const { rest } = this;
      if (!unit || (rest && unit.symbol === "")) return this.unitToEnd(wanted);
      if (!rest) return unit;
      if (lookup(rest, [unit.quantity]) === unit) {
        this.at = this.text.length;
        return unit;
      }
      throw new AmountFault(
        `\`${rest}\` is not understood after \`${this.text.slice(0, this.at).trim()}\``,
        "give one figure or one range, with one unit; put words in a note",
      );
    }
    unitFault(rest, wanted) {
      const kind = wanted.length === 1 ? aThing(wanted[0]) : "a figure in a unit known here";
      const whole = this.text.trim();
      const known = wanted.flatMap((quantity) => [...table.get(quantity).values()]);
      const symbols = [...new Set(known.map((unit) => unit.symbol))].filter(Boolean).slice(0, 6);
      const few = symbols.map((symbol) => `\`${symbol}\``).join(", ") || "plain digits";
      const some = wanted.length > 2 ? "`mm`, `N·m`, `kg`, `bar`, `°C`, `s` and others" : few;
      if (!rest) {
        return new AmountFault(`\`${whole}\` has no unit, and ${kind} needs one`, `add one of ${some}`);
      }
      const asked = noUnits.find(([quantity, spelling]) => wanted.includes(quantity) && spelling === rest);
      if (asked) return new AmountFault(asked[2], asked[3]);
      const other = quantities().find((one) => !wanted.includes(one) && lookup(rest, [one]));
      const what = other
        ? `\`${whole}\` is ${aThing(other)}, where ${kind} belongs`
        : `\`${whole}\` is not ${kind}: \`${rest}\` is no unit known here`;
      return new AmountFault(what, `use one of ${some}`);
    }
  }

  /** Return a plain number, and how many decimals were typed. */
  const decimal = (typed) => {
    const plain = typed.replace(/[ ']/g, "").replace(/,/g, ".").toLowerCase();
    const [mantissa, exponent = ""] = plain.split("e");
    const shift = Number(exponent || "0");
    if (Math.abs(shift) > LARGEST_EXPONENT) {
      throw new AmountFault(`\`${typed}\` is too large or too small`, "check the exponent");
    }
    const [whole, decimals = ""] = mantissa.split(".");
    const value = Exact.times(
      Exact.of(BigInt(whole + decimals), 10n ** BigInt(decimals.length)),
      shift < 0 ? Exact.step(-shift) : Exact.power(shift),
    );
    return { value, places: Math.max(decimals.length - shift, 0) };
  };

  const fraction = (found) => {
    const { sign, before, whole, top, bottom } = found.groups;
    const [above, below] = sign ? sign.normalize("NFKC").split("\u2044") : [top, bottom];
    if (BigInt(below) === 0n) throw new AmountFault(`\`${found[0]}\` divides by nothing`, "mend the fraction");
    const part = Exact.of(BigInt(above), BigInt(below));
    return { value: Exact.add(Exact.of(BigInt(before || whole || "0")), part), places: 0 };
  };

  const oneSided = (text, cursor, wanted) => {
    for (const [pattern, isUpper] of [[AT_MOST, true], [AT_LEAST, false]]) {
      if (cursor.take(pattern)) {
        const { value, places } = cursor.signed();
        const unit = cursor.unitToEnd(wanted);
        return { text, unit, low: isUpper ? null : value, high: isUpper ? value : null, nominal: null, places };
      }
    }
    return null;
  };

  const tolerance = (text, cursor, wanted, first) => {
    if (!cursor.take(PLUS_MINUS)) return null;
    let { value, places } = cursor.number();
    if (first.value.top !== 0n && cursor.take(PERCENT)) {
      value = Exact.over(Exact.times(Exact.size(first.value), value), Exact.of(100n));
      ({ places } = first);
    }
    const unit = cursor.sameUnit(wanted, first.unit);
    const [low, high] = [Exact.less(first.value, value), Exact.add(first.value, value)];
    return { text, unit, low, high, nominal: first.value, places: Math.max(first.places, places) };
  };

  const deviation = (text, cursor, wanted, first) => {
    const found = cursor.take(UNEQUAL);
    if (!found) return null;
    const up = decimal(found.groups.up || found.groups.thenUp);
    const down = decimal(found.groups.down || found.groups.firstDown);
    const unit = cursor.sameUnit(wanted, first.unit);
    const [low, high] = [Exact.less(first.value, down.value), Exact.add(first.value, up.value)];
    const places = Math.max(first.places, up.places, down.places);
    return { text, unit, low, high, nominal: first.value, places };
  };

  const limitAfter = (text, cursor, wanted, first) => {
    if (!first.unit) return null;
    const rest = { text, unit: first.unit, nominal: null, places: first.places };
    if (cursor.take(MOST_AFTER)) return { ...rest, low: null, high: first.value };
    if (cursor.take(LEAST_AFTER)) return { ...rest, low: first.value, high: null };
    return null;
  };

  const range = (text, cursor, wanted, first) => {
    if (!cursor.take(TO)) return null;
    const second = cursor.signed();
    const unit = cursor.sameUnit(wanted, first.unit);
    if (Exact.compare(second.value, first.value) < 0) {
      throw new AmountFault(
        `\`${text.trim()}\` runs from the larger figure to the smaller`,
        "write the smaller figure first",
      );
    }
    const places = Math.max(first.places, second.places);
    return { text, unit, low: first.value, high: second.value, nominal: null, places };
  };

  const longerTime = (cursor, value, unit) => {
    let last = unit;
    while (cursor.text.slice(cursor.at).trim()) {
      cursor.skipSpaces();
      const more = cursor.number();
      const smaller = cursor.unitHere(["time"]);
      if (!smaller || Exact.compare(smaller.factor, last.factor) >= 0) {
        throw new AmountFault(`\`${cursor.text.trim()}\` is not a length of time`, "write it like `1 h 30 min`");
      }
      value = Exact.add(value, converted(more.value, smaller, unit));
      last = smaller;
    }
    return value;
  };

  const twoSided = (text, cursor, wanted) => {
    if (cursor.take(STRICT)) {
      throw new AmountFault(
        "`<` and `>` leave open whether the figure itself is good",
        "write `at most` or `at least`",
      );
    }
    if (wanted.includes("time") && text.includes(":")) {
      throw new AmountFault(
        `\`${text.trim()}\` could be a time of day or a length of time`,
        "write a length of time with its unit, such as `12 min 30 s`",
      );
    }
    for (const read of [tolerance, deviation]) {
      const amount = read(text, cursor, wanted, { value: Exact.nothing, places: 0, unit: null });
      if (amount) return amount;
    }
    const { value, places } = cursor.signed();
    const first = { value, places, unit: cursor.unitHere(wanted) };
    for (const readOn of [tolerance, deviation, limitAfter, range]) {
      const amount = readOn(text, cursor, wanted, first);
      if (amount) return amount;
    }
    const whole = first.unit && first.unit.quantity === "time" ? longerTime(cursor, value, first.unit) : value;
    const unit = cursor.sameUnit(wanted, first.unit);
    return { text, unit, low: whole, high: whole, nominal: whole, places };
  };

  /** Read a figure of one of the quantities; where a spelling serves several, the first wins. */
  const read = (text, wanted) => {
    if (Array.from(text).length > LONGEST) {
      throw new AmountFault("a figure of over 200 characters", "shorten it, and put words in a note");
    }
    const cursor = new Cursor(text);
    return oneSided(text, cursor, wanted) || twoSided(text, cursor, wanted);
  };

  const toSi = (value, unit) => Exact.times(Exact.add(value, unit.offset), unit.factor);
  const converted = (value, unit, other) =>
    Exact.less(Exact.over(toSi(value, unit), other.factor), other.offset);
  /** Return the one figure to use where only one serves. */
  const middle = (amount) => {
    if (amount.nominal) return amount.nominal;
    const ends = [amount.low, amount.high].filter(Boolean);
    return Exact.over(ends.reduce(Exact.add), Exact.of(BigInt(ends.length)));
  };
  /** Return the step of the last digit typed, in SI units. */
  const resolution = (amount) => Exact.times(amount.unit.factor, Exact.step(amount.places));
  const unitOf = (symbol, quantity) => table.get(quantity).get(symbol);
  const unitAnywhere = (symbol) =>
    [...table.values()].map((names) => names.get(symbol)).find((unit) => unit && unit.symbol === symbol);

  const firstUnit = (quantity) => [...table.get(quantity).values()][0];

  return {
    plainText, aThing, useUnits, quantities, read, toSi, middle, resolution, unitOf, unitAnywhere, firstUnit,
  };
})();
