"use strict";
/* Readings against limits, by the rules of the log: accept, out, or not to be told.
   A verdict is { word, why, follow }; after "accept" and "recorded" work goes on. */

const Judging = (() => {
  const GOOD = ["good", "right", "ok", "yes", "accept", "x"];
  const BAD = ["bad", "wrong", "not ok", "no"];
  const YES = ["yes", "y", "goes", "goes in", "x", "ok"];
  const NO = ["no", "n", "does not go", "does not go in"];
  const BARE = /^[+-]?[0-9]+(?:[.,][0-9]+)?$/;
  const BARE_OF_SET = /^[+-]?\s?(?:[0-9]+(?:[.,][0-9]+)?|[.,][0-9]+)$/;
  const MOST_BARE = 6;
  const MANY_TURNS = Exact.of(2n);
  const MANY_BANDS = Exact.of(4n);
  const TURNS = [
    [Exact.of(635n, 1000000n), "0.025 in, one turn of an inch thimble"],
    [Exact.of(1n, 2000n), "0.5 mm, one turn of a metric thimble"],
  ];

  const isOk = (verdict) => verdict.word === "accept" || verdict.word === "recorded";
  const word = (text) => Amounts.plainText(text).trim().toLowerCase();
  const limitsOf = (limit) => ({ low: Exact.read(limit.low), high: Exact.read(limit.high) });

  const holds = (limits, value) =>
    (!limits.low || Exact.compare(value, limits.low) >= 0) &&
    (!limits.high || Exact.compare(value, limits.high) <= 0);

  const width = ({ low, high }) => {
    if (low && high) return Exact.less(high, low);
    return high ? Exact.size(high) : null;
  };

  /** Say where a value lies that may be wrong by its spread, told in steps so wide. */
  const judge = (value, limits, spread, step) => {
    const wide = width(limits);
    const isCoarse = step && wide && Exact.compare(step, wide) > 0;
    const doubt = isCoarse ? Exact.largest(spread, step) : spread;
    const [least, most] = [Exact.less(value, doubt), Exact.add(value, doubt)];
    if (limits.low && Exact.compare(most, limits.low) < 0) return "out low";
    if (limits.high && Exact.compare(least, limits.high) > 0) return "out high";
    return holds(limits, least) && holds(limits, most) ? "accept" : "cannot be told";
  };

  const ends = (amount) => [Amounts.toSi(amount.low, amount.unit), Amounts.toSi(amount.high, amount.unit)];
  const half = Exact.of(1n, 2n);
  const middleOf = (low, high) => Exact.times(Exact.add(low, high), half);
  const spreadOf = (low, high) => Exact.times(Exact.less(high, low), half);

  const judgeTyped = (reading, limit, gauge = null) => {
    const [low, high] = ends(reading);
    const typed = Amounts.resolution(reading);
    const step = gauge ? Exact.largest(typed, Exact.read(gauge.step)) : typed;
    return judge(middleOf(low, high), limitsOf(limit), spreadOf(low, high), step);
  };

  const untold = (fault) => ({ word: "cannot be told", why: fault.what, follow: fault.fix });

  const observed = (rules, text) => {
    const said = word(text);
    if (GOOD.includes(said) || (rules.good && said === word(rules.good))) {
      return { says: "accept", words: rules.good || "good" };
    }
    if (BAD.includes(said) || (rules.bad && said === word(rules.bad))) {
      return { says: "out low", words: rules.bad || "not as it should be" };
    }
    if (said && !(rules.good || rules.bad)) {
      return { says: "recorded", words: "the model does not say what is good" };
    }
    throw new AmountFault(
      said ? `\`${text.trim()}\` is neither the good nor the bad finding` : "the finding is not there yet",
      `write \`good\` (${rules.good || "as it should be"}) or \`bad\` (${rules.bad || "not so"})`,
    );
  };

  const goesIn = (text, gauge) => {
    const said = word(text);
    if (YES.includes(said) || NO.includes(said)) return YES.includes(said);
    throw new AmountFault(
      said ? `\`${text.trim()}\` does not say whether ${gauge} goes in` : `nothing says yet whether ${gauge} goes in`,
      said ? "write `yes` or `no`" : "try it, and write yes or no",
    );
  };

  const goOrNot = (rules, typed) => {
    const goes = !rules.go || goesIn(typed.go || "", rules.go);
    const tooFar = Boolean(rules.noGo) && goesIn(typed.no_go || "", rules.noGo);
    if (!goes) return { says: "out low", words: `${rules.go} does not go in` };
    if (tooFar) return { says: "out high", words: `${rules.noGo} goes in` };
    const said = [[rules.go, "goes in"], [rules.noGo, "does not go in"]];
    const words = said.filter(([gauge]) => gauge).map((pair) => pair.join(" "));
    return { says: "accept", words: words.join(" and ") };
  };

  const oneFigure = (text, unit) => {
    const first = unit ? [unit.quantity] : [];
    const others = Amounts.quantities().filter((one) => !first.includes(one));
    const amount = Amounts.read(text, [...first, ...others]);
    if (!amount.low || !amount.high) {
      throw new AmountFault(`\`${text.trim()}\` is not one figure`, "give the figure that was read");
    }
    return amount;
  };

  const knownAmount = (known) => ({
    text: known.text,
    unit: Amounts.unitOf(known.unit, known.quantity),
    low: Exact.read(known.low),
    high: Exact.read(known.high),
    nominal: Exact.read(known.value),
    places: known.places,
  });

  /** Yield every choice of so many names, in order. */
  function* chosen(names, count) {
    if (count === 0) yield [];
    for (let at = 0; count > 0 && at <= names.length - count; at += 1) {
      for (const rest of chosen(names.slice(at + 1), count - 1)) yield [names[at], ...rest];
    }
  }

  const allReckon = (rules, amounts) => {
    const quantities = Object.fromEntries(
      Object.entries(amounts).map(([name, amount]) => [name, amount.unit.quantity]),
    );
    return rules.results.every((one) => !one.limit || Formulas.reckons(one, quantities, one.limit.quantity));
  };

  /** Return what was typed as figures; bare numbers get units as far as can be reckoned with. */
  const figuresTyped = (rules, typed) => {
    const plain = {};
    const withUnits = {};
    for (const one of rules.readings) {
      if (one.is) {
        plain[one.name] = knownAmount(one.is);
        continue;
      }
      const text = (typed[one.name] || "").trim();
      if (!text) throw new AmountFault(`the reading${one.name && ` \`${one.name}\``} is not there yet`, "read it, and type it");
      const unit = one.unit === null ? null : Amounts.unitAnywhere(one.unit);
      plain[one.name] = oneFigure(text, unit);
      if (unit && BARE_OF_SET.test(Amounts.plainText(text).trim())) {
        withUnits[one.name] = oneFigure(`${text} ${unit.symbol}`, unit);
      }
    }
    const names = Object.keys(withUnits);
    for (let count = 0; count <= (names.length <= MOST_BARE ? names.length : 0); count += 1) {
      for (const left of chosen(names, count)) {
        const bare = Object.fromEntries(left.map((name) => [name, plain[name]]));
        const amounts = { ...plain, ...withUnits, ...bare };
        if (allReckon(rules, amounts)) return amounts;
      }
    }
    return { ...plain, ...withUnits };
  };

  const stepOf = (rules, name, amount) => {
    const reading = rules.readings.find((one) => one.name === name);
    if (reading.is) return Exact.nothing;
    const typed = Amounts.resolution(amount);
    const { gauge } = reading;
    if (!gauge || gauge.quantity !== amount.unit.quantity) return typed;
    return Exact.largest(typed, Exact.read(gauge.step));
  };

  /** Return how finely a result is told, every reading being off by its own step. */
  const stepOfResult = (rules, result, amounts, quantity) => {
    const steps = result.names.map((name) => stepOf(rules, name, amounts[name]));
    if (result.shares) {
      const parts = result.names.map((name, at) =>
        Exact.times(Exact.size(Exact.read(result.shares[name] || "0")), steps[at]),
      );
      return parts.reduce(Exact.add, Exact.nothing);
    }
    const off = { ...amounts };
    result.names.forEach((name, at) => {
      const amount = amounts[name];
      const value = Amounts.middle(amount);
      const eitherWay = Exact.over(steps[at], amount.unit.factor);
      off[name] = { ...amount, low: Exact.less(value, eitherWay), high: Exact.add(value, eitherWay), nominal: value };
    });
    return Formulas.compute(result, off, quantity).spread;
  };

  const quantityOf = (result, amounts) => {
    const quantities = Object.fromEntries(
      Object.entries(amounts).map(([name, amount]) => [name, amount.unit.quantity]),
    );
    const wanted = [...new Set([...Object.values(quantities), ...Amounts.quantities()])];
    return wanted.find((one) => Formulas.reckons(result, quantities, one)) || wanted[0] || "number";
  };

  const unitOfResult = (quantity, amounts) => {
    const found = Object.values(amounts).find((amount) => amount.unit.quantity === quantity);
    return found ? found.unit : Amounts.firstUnit(quantity);
  };

  /** Return the figures that a set comes to, each { name, value, spread, step, limit, unit }. */
  const reckoned = (rules, amounts) => {
    if (!rules.results.length) {
      return Object.entries(amounts).map(([name, amount]) => readFigure(rules, name, amount));
    }
    return rules.results.map((result) => {
      const quantity = result.limit ? result.limit.quantity : quantityOf(result, amounts);
      const { value, spread } = Formulas.compute(result, amounts, quantity);
      const step = stepOfResult(rules, result, amounts, quantity);
      const unit = result.limit ? Amounts.unitOf(result.limit.unit, quantity) : unitOfResult(quantity, amounts);
      return { name: result.name, value, spread, step, limit: result.limit, unit, isRead: false };
    });
  };

  const readFigure = (rules, name, amount) => {
    const { limit } = rules;
    if (limit && limit.quantity !== amount.unit.quantity) {
      throw new AmountFault(
        `\`${amount.text.trim()}\` is not compared with the limit \`${limit.asked}\``,
        "give it in a unit of what the limit is for",
      );
    }
    const [low, high] = ends(amount);
    const unit = limit ? Amounts.unitOf(limit.unit, limit.quantity) : amount.unit;
    return {
      name,
      value: middleOf(low, high),
      spread: spreadOf(low, high),
      step: stepOf(rules, name, amount),
      limit,
      unit,
      isRead: amount.unit.quantity === "length",
    };
  };

  const inUnit = (value, unit) => Exact.less(Exact.over(value, unit.factor), unit.offset);

  const shown = (figure) => {
    const { unit, limit } = figure;
    const band = limit ? limitsOf(limit) : { low: null, high: null };
    const typed = [band.low, band.high].map((end) => (end ? inUnit(end, unit) : null));
    const said = Exact.spelt(inUnit(figure.value, unit), unit.symbol, ...typed);
    if (figure.spread.top === 0n) return said;
    const spread = Exact.over(figure.spread, unit.factor);
    return `${said} ± ${Exact.spelt(spread, unit.symbol, spread, null)}`;
  };

  /** Return where the size can be at all: within the limit, or where rework is allowed. */
  const sizes = (rules, band) => {
    const again = rules.rework && rules.rework.limit ? [limitsOf(rules.rework.limit)] : [];
    const bands = [band, ...again];
    const lows = bands.map((one) => one.low).filter(Boolean);
    const highs = bands.map((one) => one.high).filter(Boolean);
    return {
      low: lows.length ? Exact.smallest(...lows) : null,
      high: highs.length ? Exact.largest(...highs) : null,
    };
  };

  /** Return the words for a reading that one turn of a thimble explains, or nothing. */
  const slip = (figure, expected) => {
    if (!figure.isRead || holds(expected, figure.value)) return "";
    for (const [turn, words] of TURNS) {
      for (const meant of [Exact.less(figure.value, turn), Exact.add(figure.value, turn)]) {
        if (holds(expected, meant)) {
          const wide = width(expected);
          const isPlain =
            expected.low && wide &&
            Exact.compare(expected.low, Exact.times(MANY_TURNS, turn)) > 0 &&
            Exact.compare(Exact.times(wide, MANY_BANDS), turn) < 0;
          return isPlain ? `off by exactly ${words}: measure again` : "";
        }
      }
    }
    return "";
  };

  const doubt = (figure, band, said) => {
    const { limit, unit, step } = figure;
    const wide = width(band);
    if (wide && Exact.compare(step, wide) > 0) {
      const told = Exact.spelt(Exact.over(step, unit.factor), unit.symbol);
      return `${said} is told only to ${told}, and the limit (${limit.asked}) is narrower than that`;
    }
    return `${said} may lie on either side of the limit (${limit.asked})`;
  };

  const saidOf = (rules, figure) => {
    const { limit } = figure;
    if (!limit) return { says: "recorded", words: "the model gives it no limit" };
    const band = limitsOf(limit);
    const says = judge(figure.value, band, figure.spread, figure.step);
    const text = shown(figure);
    const said = figure.name ? `\`${figure.name}\`, ${text},` : text;
    if (says === "accept") return { says, text, words: `${said} is within ${limit.asked}` };
    if (says === "cannot be told") return { says, text, words: doubt(figure, band, said) };
    const misread = slip(figure, sizes(rules, band));
    if (misread) return { says: "misread", text, words: `${said} is ${misread}` };
    const side = says === "out low" ? "below" : "above";
    const again = rules.rework && rules.rework.limit;
    const isInRework =
      Boolean(again) && again.quantity === limit.quantity &&
      judge(figure.value, limitsOf(again), figure.spread, figure.step) === "accept";
    return { says, text, words: `${said} is ${side} the limit (${limit.asked})`, isInRework };
  };

  const verdictOf = (rules, results, turn) => {
    const of = (...kinds) => results.filter((one) => kinds.includes(one.says));
    const why = (some) => some.map((one) => one.words).join("; ");
    const misread = of("misread");
    if (misread.length) {
      const follow = "measure again, and compare the gauge with a setting piece";
      return { word: "cannot be told", why: why(misread), follow };
    }
    const out = of("out low", "out high");
    if (out.length) {
      const ways = rules.follows[Math.min(turn, rules.follows.length) - 1];
      const [found, follow] = ways[out.every((one) => one.isInRework) ? 1 : 0];
      return { word: found, why: why(out), follow };
    }
    const unsure = of("cannot be told");
    if (unsure.length) {
      const follow = "take a finer gauge, or read it finer and type every decimal";
      return { word: "cannot be told", why: why(unsure), follow };
    }
    const good = of("accept");
    if (good.length) return { word: "accept", why: why(good), follow: "" };
    return { word: "recorded", why: why(results), follow: "" };
  };

  const told = (judged) => {
    try {
      return judged();
    } catch (fault) {
      if (fault instanceof AmountFault) return untold(fault);
      throw fault;
    }
  };

  /** Return the names of the readings that one place wants; one without a name if only one. */
  const names = (rules) => {
    if (rules.readings.length) return rules.readings.filter((one) => !one.is).map((one) => one.name);
    if (!rules.limit && (rules.go || rules.noGo)) {
      return [["go", rules.go], ["no_go", rules.noGo]].filter(([, gauge]) => gauge).map(([name]) => name);
    }
    return [""];
  };
  const isOfSets = (rules) => names(rules).join("\n") !== "";

  /** Return the rules of a check that one value settles: a reading without a name. */
  const alone = (rules) => ({
    ...rules,
    readings: [{ name: "", is: null, gauge: rules.gauge, unit: rules.bareUnit }],
    results: [],
  });

  /** Leave out the figure where it stands beside the verdict as typed, in the unit of the limit. */
  const whyBeside = (rules, text, results, why) => {
    try {
      const { unit } = Amounts.read(text, [rules.limit.quantity]);
      if (unit.symbol !== rules.limit.unit) return why;
    } catch (fault) {
      if (fault instanceof AmountFault) return why;
      throw fault;
    }
    const start = `${results[0].text} is `;
    const rest = why.startsWith(start) ? why.slice(start.length) : why;
    return rest.startsWith("within ") ? rest.slice("within ".length) : rest;
  };

  /** Return the verdict on a check that one value settles. */
  const single = (rules, text, turn) =>
    told(() => {
      if (!rules.limit) return verdictOf(rules, [observed(rules, text)], turn);
      const only = alone(rules);
      const results = reckoned(only, figuresTyped(only, { "": text })).map((one) => saidOf(only, one));
      const verdict = verdictOf(rules, results, turn);
      return { ...verdict, why: whyBeside(rules, text, results, verdict.why) };
    });

  /** Return the verdict on readings that are judged together, by their names. */
  const set = (rules, typed, turn) =>
    told(() => {
      if (rules.fault) throw new AmountFault(...rules.fault);
      const isGauges = !rules.limit && !rules.readings.length;
      const results = isGauges
        ? [goOrNot(rules, typed)]
        : reckoned(rules, figuresTyped(rules, typed)).map((figure) => saidOf(rules, figure));
      return verdictOf(rules, results, turn);
    });

  /** Return the verdict on what a joint was tightened to. */
  const torque = (rules, text) => {
    if (!rules.limit) return { word: "recorded", why: "the model settles on no figure", follow: "" };
    return told(() => {
      const asked = `asked: ${rules.limit.asked}`;
      const reading = Amounts.read(text, ["torque"]);
      if (!reading.low || !reading.high || Exact.compare(reading.low, reading.high) !== 0) {
        throw new AmountFault(
          `\`${text.trim()}\` is a range where one figure belongs`, "give the one figure to use",
        );
      }
      if (!rules.isBand) return { word: "recorded", why: `${asked}, without a tolerance`, follow: "" };
      const found = judgeTyped(reading, rules.limit);
      if (found === "accept") return { word: "accept", why: asked, follow: "" };
      if (found === "cannot be told") return { word: found, why: asked, follow: "read it finer" };
      const side = found === "out low" ? "below" : "above";
      const follow = found === "out low" ? "tighten on to the figure" : "do not back it off: ask";
      return { word: "out of limit", why: `${side} the figure (${rules.limit.asked})`, follow };
    });
  };

  /** Return a value as it is recorded: a bare number with the unit that its blank says. */
  const withUnit = (text, unit) =>
    unit && BARE.test(Amounts.plainText(text).trim()) ? `${text.trim()} ${unit}` : text.trim();

  return {
    isOk, single, set, torque, names, isOfSets, withUnit,
  };
})();
