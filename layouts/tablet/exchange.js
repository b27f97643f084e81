"use strict";
/* The export: a line for each entry, as the log has them; and what a log or an export tells. */

const Exchange = (() => {
  const LOCAL = ["from", "isTyped"]; // what only the page knows of an entry

  const plain = (entry) => Object.fromEntries(Object.entries(entry).filter(([name]) => !LOCAL.includes(name)));

  /** Return the lines of an export: what it is, then every entry that is not from the log. */
  const linesOf = (data, unit, entries) => {
    const { assembly, issue, fingerprint } = data;
    const head = { tablet: 1, assembly, issue, fingerprint, unit, exported: Entries.stamp(new Date()) };
    const own = entries.filter((entry) => entry.from !== "log");
    return [head, ...own.map(plain)].map((told) => `${JSON.stringify(told)}\n`).join("");
  };

  /** Return what to call an export: two made in one second differ by how many entries they hold. */
  const fileName = (data, unit, count) => {
    const moment = Entries.stamp(new Date()).slice(0, 19);
    const name = [data.assembly, data.issue, unit, moment, count].filter((one) => one !== "").join("-");
    return `${name.replace(/[^\p{L}\p{N}_.-]+/gu, "_")}.tablet.jsonl`;
  };

  /** A text that is neither a log nor an export of this job. */
  class NotThis extends Error {}

  const objects = (text) =>
    text.split("\n").filter((line) => line.trim()).map((line, at) => {
      try {
        const told = JSON.parse(line);
        if (told && typeof told === "object") return told;
      } catch (fault) {
        if (!(fault instanceof SyntaxError)) throw fault;
      }
      throw new NotThis(`Line ${at + 1} is torn: it is no entry.`);
    });

  const KNOWN = {
    __proto__: null,
    done: ["steps"], undone: ["steps"], "part-done": ["step", "pass", "count"], skip: ["step", "allowed_by"], reading: ["check", "value"],
    torque: ["joint", "value"], fitted: ["part"], spoiled: ["part"], short: ["part"], arrived: ["part"],
    sign: ["role"], note: ["text"], accept: ["check"], correct: ["corrects"],
  };
  const fits = (entry, isExport) => {
    if (isExport && (typeof entry.id !== "string" || !entry.id)) return false;
    if (Number.isNaN(Date.parse(entry.at || entry.time))) return false;
    const wanted = KNOWN[entry.kind] || [];
    const isList = !("steps" in entry) || (Array.isArray(entry.steps) && entry.steps.every((step) => typeof step === "string"));
    const texts = ["value", "place", "text", "check", "joint", "part", "role", "step", "at", "by", "allowed_by"];
    return isList && wanted.every((name) => name in entry) && texts.every((name) => !(name in entry) || typeof entry[name] === "string");
  };

  const ofLog = (told) => {
    const names = new Map();
    return told.map((one) => {
      const id = one.id || `entry ${one.entry}`;
      names.set(one.entry, id);
      const entry = { ...one, id, at: one.at || one.time, by: one.by || "", from: "log", isTyped: !one.id };
      delete entry.entry;
      delete entry.time;
      if (one.kind === "correct") entry.corrects = names.get(one.corrects) || "";
      return entry;
    });
  };

  /** Return the entries of a log or an export, after making sure that it is of this model and unit. */
  const read = (data, unit, text) => {
    const told = objects(text.replace(/^\ufeff/, ""));
    if (!told.length) throw new NotThis("There is nothing to read.");
    const models = told.filter((one) => one.fingerprint !== undefined && (one.tablet || one.kind === "start" || one.kind === "issue"));
    if (!models.length) throw new NotThis("This is neither a log nor an export: its first line is missing.");
    const last = models[models.length - 1];
    if (last.fingerprint !== data.fingerprint) {
      throw new NotThis(`It is of model ${last.fingerprint}, and this page is of model ${data.fingerprint}. Make the page anew.`);
    }
    if ((models[0].unit || "") !== unit) {
      throw new NotThis(`It is of unit ${models[0].unit || "without a number"}, and this page shows unit ${unit || "without a number"}: “Change”, at the top, says which unit it is.`);
    }
    const rest = told.filter((one) => !models.includes(one));
    const isExport = Boolean(models[0].tablet);
    const strange = rest.findIndex((one) => !fits(one, isExport));
    if (strange >= 0) throw new NotThis(`Entry ${strange + 1} lacks what belongs to it.`);
    return isExport ? rest : ofLog(rest);
  };

  /** Return two tellings as one by the time of each entry; what is told by both counts once. */
  const byTime = (own, found) => {
    const [left, right] = [[...own], [...found]];
    const all = [];
    while (left.length && right.length) {
      all.push(Date.parse(right[0].at) < Date.parse(left[0].at) ? right.shift() : left.shift());
    }
    return [...all, ...left, ...right];
  };

  /** Return what is known from both: the log in its order, then what is only here. */
  const merged = (own, found) => {
    const there = new Set(found.map((entry) => entry.id));
    const known = new Set(own.map((entry) => entry.id));
    const isLog = found.some((entry) => entry.from === "log");
    if (isLog) return [...found, ...own.filter((entry) => entry.from !== "log" && !there.has(entry.id))];
    return byTime(own, found.filter((entry) => !known.has(entry.id)));
  };

  return { linesOf, fileName, read, merged, NotThis };
})();
