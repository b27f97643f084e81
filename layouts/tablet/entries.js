"use strict";
/* Entries as the log knows them, one object each, and the state that they tell.
   Nothing is ever taken out: what was wrong is corrected by a later entry. */

const Entries = (() => {
  const two = (number) => String(number).padStart(2, "0");

  /** Return a moment as it stands in a log, with the offset of this place. */
  const stamp = (moment) => {
    const offset = -moment.getTimezoneOffset();
    const away = Math.abs(offset);
    const day = `${moment.getFullYear()}-${two(moment.getMonth() + 1)}-${two(moment.getDate())}`;
    const time = [moment.getHours(), moment.getMinutes(), moment.getSeconds()].map(two).join(":");
    return `${day}T${time}${offset < 0 ? "-" : "+"}${two(Math.floor(away / 60))}:${two(away % 60)}`;
  };

  /** Return an id that no other page or window will give. */
  const newId = () =>
    Array.from(crypto.getRandomValues(new Uint8Array(8)), (byte) => byte.toString(16).padStart(2, "0")).join("");

  const make = (kind, fields, by, sheet, despite = []) => {
    const entry = { id: newId(), at: stamp(new Date()), kind, ...fields, by, sheet };
    return despite.length ? { ...entry, despite } : entry;
  };

  const changed = (entry, correct) => {
    if (!entry) return null;
    if (correct.value && "value" in entry) return { ...entry, value: correct.value };
    if (correct.step && entry.steps) {
      const steps = entry.steps.filter((step) => step !== correct.step);
      return steps.length ? { ...entry, steps } : null;
    }
    return null;
  };

  /** Return the entries that count, put right by those that correct them. */
  const counting = (entries) => {
    const place = new Map(entries.map((entry, at) => [entry.id, at]));
    const corrections = new Map();
    for (let at = entries.length - 1; at >= 0; at -= 1) {
      const entry = entries[at];
      const target = place.get(entry.corrects);
      if (entry.kind === "correct" && !corrections.has(entry.id) && target < at) {
        corrections.set(entry.corrects, [entry, ...(corrections.get(entry.corrects) || [])]);
      }
    }
    return entries
      .map((entry) => (corrections.get(entry.id) || []).reduce(changed, entry))
      .filter(Boolean);
  };

  const placeOf = (rules, place) =>
    rules.each.find((one) => place === one || place.startsWith(`${one} `)) || "";
  const joined = (place, name) => `${place} ${name}`.trim();

  /** The state in the making: a method for each kind of entry that the page shows. */
  class State {
    constructor(data) {
      this.data = data;
      this.steps = new Map(data.steps.map((step) => [step.id, step]));
      this.turn = 0; // counts the entries taken
      this.done = new Map();
      this.doneAt = new Map();
      this.skipped = new Map();
      this.partDone = new Map();
      this.readings = new Map();
      this.accepted = new Map();
      this.signed = new Map();
      this.roles = new Map();
      this.spoiled = new Map();
      this.short = new Map();
      this.notes = new Map();
    }

    take(entry) {
      const known = {
        __proto__: null,
        done: this.takeDone, undone: this.takeUndone, "part-done": this.takePart, skip: this.takeSkip,
        reading: this.takeReading, accept: this.takeAccept, sign: this.takeSign, note: this.takeNote,
        spoiled: this.takeSpoiled, short: this.takeShort, arrived: this.takeArrived, fitted: this.takeArrived,
      };
      this.turn += 1;
      if (entry.step && !this.steps.has(entry.step)) return;
      if (known[entry.kind]) known[entry.kind].call(this, entry);
    }

    takeDone(entry) {
      for (const step of entry.steps.filter((one) => this.steps.has(one))) {
        this.signed.delete(step);
        this.done.set(step, entry);
        this.skipped.delete(step);
        this.doneAt.set(step, this.turn);
        this.partDone.delete(step);
        const { upsets, begins, fits } = this.steps.get(step);
        for (const check of upsets) this.void(check);
        for (const check of begins) if (this.hasFailed(check)) this.void(check);
        for (const part of fits) if (this.isWholeAgain(part)) this.spoiled.delete(part);
      }
    }

    takeUndone(entry) {
      for (const step of entry.steps.filter((one) => this.steps.has(one))) {
        this.signed.delete(step);
        this.done.delete(step);
        this.skipped.delete(step);
        this.partDone.delete(step);
        this.notes.delete(step);
        for (const check of this.steps.get(step).checks) this.void(check);
      }
    }

    takePart(entry) {
      this.partDone.set(entry.step, entry);
    }

    takeSkip(entry) {
      this.skipped.set(entry.step, entry);
    }

    takeNote(entry) {
      const about = entry.step || "";
      if (!this.notes.has(about)) this.notes.set(about, new Set());
      this.notes.get(about).add(entry.text);
    }

    takeAccept(entry) {
      this.accepted.set(entry.check, entry);
    }

    takeSign(entry) {
      const held = this.holds().filter(
        ([step, role]) => role === entry.role && (!entry.step || entry.step === step),
      );
      for (const [step] of held) this.signed.set(step, entry);
      if (!held.length) this.roles.set(entry.role, entry);
    }

    takeSpoiled(entry) {
      if (entry.part in this.data.parts) this.spoiled.set(entry.part, { entry, turn: this.turn });
    }

    takeShort(entry) {
      if (entry.part in this.data.parts) this.short.set(entry.part, entry);
    }

    takeArrived(entry) {
      this.short.delete(entry.part);
    }

    /** The steps done that fit a part which was spoiled, each with whether it was done since. */
    fitting(part) {
      const { entry, turn } = this.spoiled.get(part);
      return [...this.done.keys()]
        .filter((step) => (!entry.step || entry.step === step) && this.steps.get(step).fits.includes(part))
        .map((step) => [step, this.doneAt.get(step) > turn]);
    }

    isWholeAgain(part) {
      const fitting = this.spoiled.has(part) ? this.fitting(part) : [];
      return fitting.length > 0 && fitting.every(([, isSince]) => isSince);
    }

    /** The steps to be done afresh because of a part that was spoiled where it is, each with it. */
    spoiledIn() {
      return [...this.spoiled.keys()].flatMap((part) =>
        this.fitting(part).filter(([, isSince]) => !isSince).map(([step]) => [step, part]),
      );
    }

    takeReading(entry) {
      const rules = this.data.checks[entry.check];
      if (!rules) return;
      const earlier = this.readings.get(entry.check) || [];
      const place = (entry.place || "").trim();
      const round = entry.round || Math.max(1, ...earlier.map((one) => one.round));
      const verdict = this.judged(rules, earlier, { ...entry, place }, round);
      for (const one of earlier) {
        const isOne = Judging.isOfSets(rules) && placeOf(rules, one.place) === placeOf(rules, place);
        if (isOne && one.round <= round) one.verdict = { word: "recorded", why: "", follow: "" };
      }
      this.readings.set(entry.check, [...earlier, { entry, place, round, verdict, isVoid: false }]);
      this.accepted.delete(entry.check);
    }

    /** Return the verdict on a reading, together with the others of its place and round. */
    judged(rules, earlier, entry, round) {
      if (!Judging.isOfSets(rules) || !rules.wanted.includes(entry.place)) {
        return Judging.single(rules, entry.value, round);
      }
      const place = placeOf(rules, entry.place);
      const values = {};
      for (const one of earlier) if (!one.isVoid && one.round === round) values[one.place] = one.entry.value;
      values[entry.place] = entry.value;
      const typed = {};
      for (const name of Judging.names(rules)) typed[name] = values[joined(place, name)] || "";
      const left = Object.keys(typed).filter((name) => !typed[name].trim());
      if (left.length) return { word: "recorded", why: `still to come: ${left.join(", ")}`, follow: "" };
      return Judging.set(rules, typed, round);
    }

    /** Leave out the good readings of a check, and all where they were accepted as they are. */
    void(check) {
      const all = this.accepted.delete(check);
      for (const one of this.readings.get(check) || []) {
        if (all || Judging.isOk(one.verdict)) one.isVoid = true;
      }
    }

    hasFailed(check) {
      return (this.readings.get(check) || []).some((one) => !Judging.isOk(one.verdict));
    }

    /** The readings of a check that count: at each place the last, of the last round. */
    current(check) {
      const counting = (this.readings.get(check) || []).filter((one) => !one.isVoid);
      const inRounds = [...counting].sort((one, other) => one.round - other.round);
      return [...new Map(inRounds.map((one) => [one.place, one])).values()];
    }

    missing(check) {
      const rules = this.data.checks[check];
      let there = this.current(check);
      if (rules.readings.length) {
        const last = Math.max(1, ...there.map((one) => one.round));
        there = there.filter((one) => one.round === last);
      }
      const places = new Set(there.map((one) => one.place));
      if (rules.wanted.join("\n") === "") return places.size ? [] : [""];
      const said = (one) => !rules.readings.length && places.has(placeOf(rules, one)) && placeOf(rules, one);
      return rules.wanted.filter((one) => !places.has(one) && !said(one));
    }

    failing(check) {
      if (this.accepted.has(check)) return null;
      return this.current(check).find((one) => !Judging.isOk(one.verdict)) || null;
    }

    /** The steps done whose hold point is not signed, each with the role. */
    holds() {
      return [...this.done.keys()]
        .map((step) => [step, this.steps.get(step).hold])
        .filter(([step, role]) => role && !this.signed.has(step));
    }

    isSettled(step) {
      return this.done.has(step) || this.skipped.has(step);
    }

    /** The steps still to be done, in printed order; one of several settles the others. */
    open() {
      return this.data.steps.filter(
        (step) =>
          step.number !== null && !this.isSettled(step.id) &&
          !step.settles.some((other) => this.isSettled(other)),
      );
    }
  }

  const replay = (data, entries) => {
    const state = new State(data);
    for (const entry of counting(entries)) state.take(entry);
    return state;
  };

  return { make, stamp, counting, replay };
})();
