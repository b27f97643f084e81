"use strict";
/* What the browser keeps: the entries of one unit, which of them were exported, and who is at the
   bench. The key is the fingerprint of the model and the number of the unit. */

const Keeping = (() => {
  let about = null; // the job: assembly, issue, fingerprint
  let base = "";
  let store = null;
  const unkept = new Map(); // what the browser had no room for, by its key

  const open = ({ assembly, issue, fingerprint }) => {
    about = { assembly, issue };
    base = `sequencer ${fingerprint}`;
    try {
      store = window.localStorage;
      store.setItem(`${base} trial`, "1");
      store.removeItem(`${base} trial`);
    } catch (fault) {
      store = null; // switched off, full, or a private window
    }
    return Boolean(store);
  };

  const parsed = (text, otherwise) => {
    if (!text) return otherwise;
    try {
      return JSON.parse(text) || otherwise;
    } catch (fault) {
      return otherwise; // overwritten by something else
    }
  };
  const stored = (key) => (store ? store.getItem(key) : null);
  const read = (key, otherwise) => parsed(unkept.get(key) || stored(key), otherwise);

  /** Keep a value; tells whether it will be there after a reload. */
  const write = (key, value) => {
    const text = JSON.stringify(value);
    unkept.set(key, text);
    if (!store) return false;
    try {
      store.setItem(key, text);
    } catch (fault) {
      return false; // no room left
    }
    unkept.delete(key);
    return true;
  };

  const now = () => read(`${base} now`, { who: "", unit: null });
  const setNow = (who, unit) => write(`${base} now`, { who, unit });
  const keyOf = (unit) => `${base} unit ${unit}`;

  const jobIn = (found) => ({
    entries: Array.isArray(found.entries) ? found.entries : [],
    exported: Array.isArray(found.exported) ? found.exported : [],
  });
  const job = (unit) => jobIn(read(keyOf(unit), {}));

  /** Return what this or another window has kept last. */
  const elsewhere = (unit) => jobIn(parsed(stored(keyOf(unit)), {}));

  /** Return entries with what another window has recorded meanwhile. */
  const joined = (unit, entries, exported) => {
    const other = elsewhere(unit);
    const known = new Set(entries.map((one) => one.id));
    const news = other.entries.filter((one) => one.from !== "log" && !known.has(one.id));
    return { entries: [...entries, ...news], exported: [...new Set([...exported, ...other.exported])] };
  };

  /** Keep entries beside what another window has recorded; tells what there is, and if it is kept. */
  const save = (unit, entries, exported) => {
    const all = joined(unit, entries, exported);
    return { ...all, isKept: write(keyOf(unit), { ...about, ...all }) };
  };

  /** Return how many entries are in no export yet. */
  const unexported = ({ entries, exported }) => {
    const out = new Set(exported);
    return entries.filter((entry) => entry.from !== "log" && !out.has(entry.id)).length;
  };

  /** Return what pages of other issues of this assembly have kept here and never exported. */
  const ofOtherIssues = () => {
    const found = [];
    for (let at = 0; store && at < store.length; at += 1) {
      const [, model, unit] = /^sequencer (\S+) unit (.*)$/s.exec(store.key(at)) || [];
      const kept = model && base !== `sequencer ${model}` ? parsed(store.getItem(store.key(at)), {}) : {};
      const count = kept.assembly === about.assembly ? unexported(jobIn(kept)) : 0;
      if (count) found.push({ model, unit, issue: kept.issue, count });
    }
    return found;
  };

  return { open, now, setNow, job, elsewhere, save, keyOf, unexported, ofOtherIssues };
})();
