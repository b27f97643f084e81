"use strict";
/* What the browser keeps: the entries of one unit, its ticked marks, and who is at the bench.
   The key is the fingerprint of the model and the number of the unit. */

const Keeping = (() => {
  let base = "";
  let store = null;
  let kept = null; // stands in for a browser that keeps nothing

  const open = (fingerprint) => {
    base = `sequencer ${fingerprint}`;
    kept = new Map();
    try {
      store = window.localStorage;
      store.setItem(`${base} trial`, "1");
      store.removeItem(`${base} trial`);
    } catch (fault) {
      store = null; // switched off, full, or a private window
    }
    return Boolean(store);
  };

  const read = (key, otherwise) => {
    const text = store ? store.getItem(key) : kept.get(key);
    if (text === null || text === undefined) return otherwise;
    try {
      return JSON.parse(text);
    } catch (fault) {
      return otherwise; // overwritten by something else
    }
  };

  /** Keep a value; tells whether it will be there after a reload. */
  const write = (key, value) => {
    const text = JSON.stringify(value);
    kept.set(key, text);
    if (!store) return false;
    try {
      store.setItem(key, text);
      return true;
    } catch (fault) {
      return false; // no room left
    }
  };

  const now = () => read(`${base} now`, { who: "", unit: null });
  const setNow = (who, unit) => write(`${base} now`, { who, unit });
  const keyOf = (unit) => `${base} unit ${unit}`;
  const job = (unit) => {
    const found = read(keyOf(unit), {});
    return {
      entries: Array.isArray(found.entries) ? found.entries : [],
      marks: Array.isArray(found.marks) ? found.marks : [],
    };
  };
  /** Keep entries and marks, beside what another window has recorded meanwhile. */
  const save = (unit, entries, marks) => {
    const known = new Set(entries.map((one) => one.id));
    const others = job(unit).entries.filter((one) => one.from !== "log" && !known.has(one.id));
    const all = [...entries, ...others];
    return { entries: all, isKept: write(keyOf(unit), { entries: all, marks }) };
  };

  return { open, now, setNow, job, save, keyOf };
})();
