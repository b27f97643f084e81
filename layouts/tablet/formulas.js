"use strict";
/* Results that a check reckons from its readings: units checked, worst-case spread, exact. */

const Formulas = (() => {
  const MOST_UNSURE = 12;
  let known = {};

  /** Take the dimensions of the quantities of the page's data into use. */
  const useDimensions = (dimensions) => {
    known = dimensions;
  };

  const isNumber = (node) => typeof node === "string" && /^[-0-9]/.test(node);
  const notReckoned = (quantity, text) =>
    new AmountFault(
      `${Amounts.aThing(quantity)} cannot be reckoned with, in \`${text}\``,
      "reckon with lengths, masses, times, forces, torques, pressures or plain numbers",
    );

  const dimensionsOf = (node, quantities, text) => {
    if (isNumber(node)) return known.number;
    if (typeof node === "string") {
      if (!(quantities[node] in known)) throw notReckoned(quantities[node], text);
      return known[quantities[node]];
    }
    const [sign, left, right] = node;
    const [one, other] = [left, right].map((side) => dimensionsOf(side, quantities, text));
    if (sign === "+" || sign === "-") {
      if (one.join() !== other.join()) {
        throw new AmountFault(
          `\`${text}\` adds or takes away unlike things`,
          "give both sides the same quantity",
        );
      }
      return one;
    }
    return one.map((power, at) => (sign === "*" ? power + other[at] : power - other[at]));
  };

  /** Refuse a result that reckons with unlike things, or gives another quantity than its limit. */
  const check = (result, quantities, wanted) => {
    if (result.fault) throw new AmountFault(...result.fault);
    const found = dimensionsOf(result.tree, quantities, result.text);
    if (!(wanted in known)) throw notReckoned(wanted, result.text);
    if (found.join() !== known[wanted].join()) {
      const gives = Object.keys(known).find((one) => known[one].join() === found.join());
      const what = gives ? Amounts.aThing(gives) : "something with no name here";
      throw new AmountFault(
        `\`${result.text}\` gives ${what}, where the limit is ${Amounts.aThing(wanted)}`,
        "mend the formula, or the unit of the limit or of a reading",
      );
    }
  };

  const noDivision = (text) =>
    new AmountFault(
      `\`${text}\` divides by what is or may be nothing`,
      "check the readings below the line",
    );

  const valueOf = (result, numbers) => {
    const signs = [];
    const of = (node) => {
      if (isNumber(node)) return Exact.read(node);
      if (typeof node === "string") return numbers[node];
      const [sign, left, right] = [node[0], of(node[1]), of(node[2])];
      if (sign === "*") return Exact.times(left, right);
      if (sign === "+") return Exact.add(left, right);
      if (sign === "-") return Exact.less(left, right);
      if (right.top === 0n) throw noDivision(result.text);
      signs.push(right.top > 0n);
      return Exact.over(left, right);
    };
    return { value: of(result.tree), signs: signs.join() };
  };

  /** Return every choice of one end of each band. */
  const corners = (names, bands) =>
    names.reduce(
      (found, name) =>
        found.flatMap((some) => [bands[name].low, bands[name].high].map((end) => ({ ...some, [name]: end }))),
      [{}],
    );

  /** Return the value in SI units, and how far it may be wrong either way. */
  const compute = (result, amounts, wanted) => {
    const quantities = Object.fromEntries(
      Object.entries(amounts).map(([name, amount]) => [name, amount.unit.quantity]),
    );
    check(result, quantities, wanted);
    const bands = {};
    for (const name of result.names) {
      const { low, high, unit } = amounts[name];
      if (!low || !high) throw new AmountFault(`the reading \`${name}\` is open at one end`, "give the figure read");
      bands[name] = {
        low: Amounts.toSi(low, unit),
        middle: Amounts.toSi(Amounts.middle(amounts[name]), unit),
        high: Amounts.toSi(high, unit),
      };
    }
    const unsure = result.names.filter((name) => Exact.compare(bands[name].low, bands[name].high) !== 0);
    if (unsure.length > MOST_UNSURE) {
      throw new AmountFault(
        `more than ${MOST_UNSURE} readings with a spread in \`${result.text}\``,
        "split it into several results",
      );
    }
    const sure = Object.fromEntries(result.names.map((name) => [name, bands[name].middle]));
    const { value, signs } = valueOf(result, sure);
    const ends = corners(unsure, bands).map((some) => {
      const corner = valueOf(result, { ...sure, ...some });
      if (corner.signs !== signs) throw noDivision(result.text);
      return corner.value;
    });
    const spread = Exact.largest(
      ...ends.map((end) => Exact.size(Exact.less(end, value))), Exact.nothing,
    );
    return { value, spread };
  };

  /** Tell whether a result can be reckoned with figures of these quantities. */
  const reckons = (result, quantities, wanted) => {
    try {
      check(result, quantities, wanted);
      return true;
    } catch (fault) {
      if (fault instanceof AmountFault) return false;
      throw fault;
    }
  };

  return { useDimensions, compute, reckons };
})();
