"use strict";
/* What stands against ticking a step, and the clocks that run between steps. */

const Turns = (() => {
  const MINUTE = 60000;
  const named = (step) => (step.number === null ? `“${step.short}”` : `step ${step.number}`);

  /** Return a moment as people read it, with its day where that is not today's. */
  const clock = (moment, now) => {
    const time = `${String(moment.getHours()).padStart(2, "0")}:${String(moment.getMinutes()).padStart(2, "0")}`;
    if (moment.toDateString() === now.toDateString()) return time;
    return `${Entries.stamp(moment).slice(0, 10)} ${time}`;
  };

  const lasting = (milliseconds) => {
    const minutes = Math.floor(milliseconds / MINUTE);
    const hours = Math.floor(minutes / 60);
    if (minutes < 1) return "less than a minute";
    if (!hours) return `${minutes} min`;
    return minutes % 60 ? `${hours} h ${minutes % 60} min` : `${hours} h`;
  };

  const since = (state, step, seconds) => {
    const entry = state.done.get(step);
    const moment = entry ? new Date(entry.at) : null;
    return moment && !Number.isNaN(moment.getTime()) ? new Date(moment.getTime() + seconds * 1000) : null;
  };
  const wholeMinute = (moment) => new Date(Math.ceil(moment.getTime() / MINUTE) * MINUTE);

  /** Return from when a step may begin: { moment, text, from, compound }, each that is known. */
  const notBefore = (state, step) =>
    step.waits
      .map((wait) => ({ ...wait, from: state.steps.get(wait.since), moment: since(state, wait.since, wait.seconds) }))
      .filter((wait) => wait.moment)
      .map((wait) => ({ ...wait, moment: wholeMinute(wait.moment) }));

  /** Return what has to be done in time: { moment, from, until, text, compound }. */
  const deadlines = (state) =>
    state.data.windows
      .filter((window) => !state.isSettled(window.until))
      .map((window) => ({
        ...window,
        from: state.steps.get(window.since),
        until: state.steps.get(window.until),
        moment: since(state, window.since, window.seconds),
      }))
      .filter((window) => window.moment);

  /** Return every clock that runs: open times first, then what is still to set. */
  const running = (state, now) => {
    const late = deadlines(state).map((one) => {
      const left = one.moment - now;
      const what = one.compound ? `${one.compound}: finish ${named(one.until)}` : `Begin ${named(one.until)}`;
      const by = `by ${clock(one.moment, now)}`;
      const words = left < 0
        ? `${what} ${by}: ${lasting(-left)} too late. Do ${named(one.from)} afresh.`
        : `${what} ${by}, ${lasting(left)} left`;
      return { moment: one.moment, words, isLate: left < 0, step: one.until };
    });
    const waiting = state.open().flatMap((step) =>
      notBefore(state, step)
        .filter((one) => one.moment > now)
        .map((one) => ({
          moment: one.moment,
          words: `${named(step)} not before ${clock(one.moment, now)}${one.compound ? ` (${one.compound} sets)` : ""}, ${lasting(one.moment - now)} left`,
          isLate: false,
          isWait: true,
          step,
        })),
    );
    return [...late, ...waiting].sort((one, other) => one.moment - other.moment);
  };

  const before = (state, step) =>
    step.number === null ? [] : state.open().filter((other) => other.number < step.number);

  /** Tell whether a box is ticked: its words are a note on the step, or on the whole. */
  const isConfirmed = (state, id, text) => Boolean(state.notes.get(id) && state.notes.get(id).has(text));

  /** Return the steps whose STOP line is not yet confirmed and stands at or before a step. */
  const stopped = (state, step) => {
    const at = step.number === null ? state.data.steps.find((one) => one.number !== null && one.settles.includes(step.id)) : step;
    return state.data.steps.filter(
      (one) =>
        one.stops.length && one.number !== null && !state.isSettled(one.id) &&
        (one.id === step.id || (at && one.number <= at.number)) &&
        one.stops.some(({ step: missed, text }) => !state.skipped.has(missed) && !isConfirmed(state, one.id, text)),
    );
  };

  /** Return why a step cannot be ticked yet, whoever wants it; nothing if it can. */
  const barred = (state, step) => {
    const stops = stopped(state, step);
    if (stops.length) return `Not yet: the STOP line of ${stops.map(named).join(", ")} has to be ticked first.`;
    const unseen = step.seen.filter((text) => !isConfirmed(state, step.id, text));
    return unseen.length ? `Not yet: first look, and tick in its box: ${unseen.join("; ")}.` : "";
  };

  /** Return what parts have against a step: they are awaited, or spoiled in a step before it. */
  const ofParts = (state, step) => {
    const { parts } = state.data;
    const awaited = step.fits.filter((part) => state.short.has(part)).map((part) => `awaited: ${parts[part]}`);
    const spoiled = state.spoiledIn()
      .filter(([id]) => id !== step.id)
      .map(([id, part]) => [state.steps.get(id), part])
      .filter(([at]) => step.number === null || at.number === null || at.number < step.number)
      .map(([at, part]) => `spoiled in ${named(at)}: ${parts[part]}`);
    return [...awaited, ...spoiled];
  };

  /** Return what of the isolation is to be signed before the first step. */
  const unsigned = (state) =>
    (state.done.size ? [] : state.data.isolation).filter((role) => !state.roles.has(role));

  /** Return what a person should know before ticking a step, and may pass over. */
  const against = (state, step, now) => {
    const told = ofParts(state, step);
    const isolation = unsigned(state);
    if (isolation.length) told.push(`not signed: ${isolation.join(", ")}`);
    const open = before(state, step).filter((other) => !other.settles.includes(step.id));
    if (open.length) told.push(`still open before it: ${open.map(named).join(", ")}`);
    for (const [held, role] of state.holds()) {
      if (held !== step.id) told.push(`the hold point of ${named(state.steps.get(held))} is not signed: ${role}`);
    }
    for (const [id] of state.done) {
      const taken = state.steps.get(id);
      const isBehind = step.number === null || taken.number === null || taken.number < step.number;
      for (const check of isBehind && id !== step.id ? taken.checks : []) {
        const failing = state.failing(check);
        if (failing) told.push(`the check of ${named(taken)} is not good: ${failing.verdict.why}; ${failing.verdict.follow}`);
        else if (taken.reads.includes(check) && state.missing(check).length) {
          told.push(`a reading of ${named(taken)} is still to come`);
        }
      }
    }
    for (const one of deadlines(state)) {
      const isLate = one.until.id === step.id && one.moment < now;
      if (isLate) told.push(`too late, by ${lasting(now - one.moment)}: do ${named(one.from)} afresh`);
    }
    for (const one of notBefore(state, step)) {
      if (one.moment > now) told.push(`not before ${clock(one.moment, now)}: ${one.text} after ${named(one.from)}`);
    }
    return [...new Set(told)];
  };

  /** Return what is wrong with the clock of this machine: entries of it are still to come. */
  const clockFault = (entries, now) => {
    const last = Math.max(...entries.map((entry) => Date.parse(entry.at)).filter((one) => !Number.isNaN(one)));
    if (!(last > now.getTime() + MINUTE)) return "";
    return `It is ${clock(now, now)} here, and something was recorded at ${clock(new Date(last), now)}: set the clock right.`;
  };

  return { named, clock, notBefore, running, stopped, barred, against, isConfirmed, clockFault };
})();
