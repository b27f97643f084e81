"use strict";
/* The cards: what the state says of each step, of each point of isolation, and of what is worn. */

const Cards = (() => {
  let bench = null; // the job: its state, its entries, and how to record

  const all = (selector, root = document) => [...root.querySelectorAll(selector)];
  const one = (selector, root) => root.querySelector(selector);
  const stepOf = (element) => bench.state.steps.get(element.closest("[data-step]").dataset.step);
  const setText = (element, text) => {
    if (element.textContent !== text) element.textContent = text;
  };

  const verdictText = (verdict) => {
    const why = verdict.why ? ` (${verdict.why})` : "";
    if (Judging.isOk(verdict)) return `${verdict.word}${why}`;
    const said = verdict.why ? `${verdict.why}: ${verdict.word}` : verdict.word;
    return verdict.follow ? `${said}; ${verdict.follow}` : said;
  };

  const showVerdict = (element, text, isOk) => {
    element.classList.toggle("bad", !isOk);
    setText(element, text);
  };

  const time = (entry) => Turns.clock(new Date(entry.at), new Date());

  // What is on a card ------------------------------------------------------------------------

  const tell = (card, text, offersAnyway) => {
    const refusal = one("[data-refusal]", card);
    refusal.hidden = !text;
    setText(refusal, text);
    one('[data-act="anyway"]', card).hidden = !offersAnyway;
  };

  /** Return what is to be known of a step besides its words. */
  const stateOf = (step) => {
    const { state } = bench;
    const [stopped] = Turns.stopped(state, step);
    if (state.done.has(step.id)) return [`done ${time(state.done.get(step.id))}`];
    if (state.skipped.has(step.id)) return [`left out, allowed by ${state.skipped.get(step.id).allowed_by}`];
    if (step.settles.some((name) => name !== step.id && state.isSettled(name))) return ["not needed: another way was taken"];
    return stopped && stopped.id === step.id ? ["waits for its STOP line"] : [];
  };

  const ofParts = (step) => {
    const { state, data } = bench;
    const afresh = state.spoiledIn().filter(([id]) => id === step.id);
    return [
      ...step.fits.filter((part) => state.short.has(part)).map((part) => `awaited: ${data.parts[part]}`),
      ...afresh.map(([, part]) => `spoiled: ${data.parts[part]}; to be done afresh with a new one`),
    ];
  };

  const showTick = (card, step) => {
    const { state } = bench;
    const entry = state.done.get(step.id);
    const isDone = Boolean(entry);
    const tick = one('[data-act="done"]', card);
    card.classList.toggle("is-done", isDone);
    tick.setAttribute("aria-pressed", String(isDone));
    tick.setAttribute("aria-disabled", String(isDone || Boolean(Turns.barred(state, step))));
    setText(one("[data-tick-label]", tick), isDone ? `Done ${time(entry)}, ${entry.by}` : "Tick as done");
    if (isDone) tell(card, "", false);
    setText(one("[data-state]", card), [...stateOf(step), ...ofParts(step)].map((words) => ` · ${words}`).join(""));
    showUndo(card, entry || state.skipped.get(step.id), isDone);
  };

  /** Show how a step is taken back; what was typed into the log itself is corrected there. */
  const showUndo = (card, entry, isDone) => {
    one("[data-undo]", card).hidden = !entry;
    one("[data-leaving]", card).hidden = Boolean(entry);
    if (!entry) return;
    one('[data-act="mistake"]', card).hidden = Boolean(entry.isTyped);
    setText(one("[data-undone-label]", card), isDone ? "It came out again" : "It is to be done after all");
  };

  /** Show the boxes whose words go into the log: STOP lines, passes, what is to be seen or worn. */
  const showSaid = (root, step) => {
    const isSettled = Boolean(step) && bench.state.isSettled(step.id);
    const isDone = Boolean(step) && bench.state.done.has(step.id);
    for (const box of all("[data-says]", root)) {
      box.checked = isDone || Turns.isConfirmed(bench.state, step ? step.id : "", box.dataset.says);
      box.disabled = isSettled;
    }
    for (const box of all("[data-missed]", root)) {
      const isOut = bench.state.skipped.has(box.dataset.missed);
      const isTicked = bench.state.done.has(box.dataset.missed);
      box.disabled = box.disabled || isOut;
      setText(one("[data-stop-state]", box.parentElement), isOut ? " – left out" : isTicked ? "" : " – not ticked here");
    }
  };

  /** Show how far the tightening got: whole passes, or fasteners where there is but one. */
  const showTightening = (card, step) => {
    const part = bench.state.partDone.get(step.id);
    const [isSettled, isDone] = [bench.state.isSettled(step.id), bench.state.done.has(step.id)];
    for (const box of all("[data-pass]", card)) {
      const [pass, count] = [Number(box.dataset.pass), Number(box.dataset.count)];
      box.checked = isDone || Boolean(part && (part.pass > pass || (part.pass === pass && part.count >= count)));
      box.disabled = isSettled;
    }
  };

  /** Return what is said of a reading that counts, and whether work may go on after it. */
  const saidOf = ({ entry, verdict }, accepted) => {
    const isOk = Judging.isOk(verdict);
    if (isOk || !accepted) return [`${entry.value}: ${verdictText(verdict)}`, isOk];
    return [`${entry.value}: ${verdict.why} – used as it is, signed by ${accepted.by}`, true];
  };

  const showChecks = (card) => {
    for (const panel of all("[data-check]", card)) {
      const accepted = bench.state.accepted.get(panel.dataset.check);
      const form = one("[data-accept]", panel);
      if (form) form.hidden = !bench.state.failing(panel.dataset.check);
      const current = bench.state.current(panel.dataset.check);
      const round = one("[data-round]", panel);
      const last = Math.max(1, ...current.map((found) => found.round));
      // What is read now belongs to the last round begun, or to a later one.
      if (round && Number(round.value) < last) round.value = String(Math.min(last, round.options.length));
      for (const blank of all("[data-place]", panel)) {
        const taken = current.find((found) => found.place === blank.dataset.place);
        const output = one("[data-verdict]", blank);
        for (const button of all("[data-value]", blank)) {
          button.setAttribute("aria-pressed", String(Boolean(taken) && taken.entry.value === button.dataset.value));
        }
        showVerdict(output, ...(taken ? saidOf(taken, accepted) : ["", true]));
      }
    }
  };

  const showHold = (card, step) => {
    const form = one("[data-sign]", card);
    if (!form) return;
    const entry = bench.state.signed.get(step.id);
    showVerdict(one("[data-verdict]", form), entry ? `Signed ${time(entry)} by ${entry.by}` : "", true);
  };

  /** Show what became of parts, and what may be said of them now. */
  const showPieces = (card) => {
    for (const form of all("[data-part]", card)) {
      const [short, spoiled] = [bench.state.short.get(form.dataset.part), bench.state.spoiled.get(form.dataset.part)];
      const words = [short && `awaited since ${time(short)}`, spoiled && `spoiled ${time(spoiled.entry)}`].filter(Boolean);
      showVerdict(one("[data-verdict]", form), words.join(", "), !words.length);
      one('[data-act="short"]', form).hidden = Boolean(short);
      one('[data-act="arrived"]', form).hidden = !short;
      one('[data-act="spoiled"]', form).hidden = Boolean(spoiled);
    }
  };

  const showIsolation = () => {
    for (const form of all("[data-isolation]")) {
      const entry = bench.state.roles.get(form.dataset.isolation);
      one(".blank", form).hidden = Boolean(entry);
      showVerdict(one("[data-verdict]", form), entry ? `Signed as ${form.dataset.stage} ${time(entry)} by ${entry.by}` : "", true);
      const wrong = one('[data-act="wrong"]', form);
      wrong.hidden = !entry || Boolean(entry.isTyped);
      wrong.dataset.entry = entry ? entry.id : "";
    }
  };

  const showWaits = (card, step, now) => {
    const waits = bench.state.isSettled(step.id) ? [] : Turns.notBefore(bench.state, step);
    const place = one("[data-waits]", card);
    place.hidden = !waits.length;
    const words = waits.map((wait) => {
      const from = `${wait.text} after ${Turns.named(wait.from)}`;
      const isOver = wait.moment <= now;
      return `Not before ${Turns.clock(wait.moment, now)} – ${from}${isOver ? ": over" : ""}`;
    });
    setText(place, words.join("\n"));
  };

  const named = (things, id) => (things[id] && things[id].name) || id;

  const partOf = (entry) => bench.data.parts[entry.part] || entry.part;
  const PIECE = [["number", "no."], ["serial", "serial"], ["batch", "batch"], ["pack", "pack"], ["mark", "mark"], ["with", "to mark"]];

  const SAID = {
    __proto__: null,
    reading: (entry) => `${named(bench.data.checks, entry.check)}${entry.place ? `, ${entry.place}` : ""}: ${entry.value}`,
    torque: (entry) => `${named(bench.data.joints, entry.joint)}${entry.place ? ` ${entry.place}` : ""}: ${entry.value}${entry.wrench ? `, wrench ${entry.wrench}` : ""}`,
    accept: (entry) => `${named(bench.data.checks, entry.check)}: used as it is, signed by ${entry.by}`,
    fitted: (entry) => `${partOf(entry)}: ${PIECE.filter(([name]) => entry[name]).map(([name, word]) => `${word} ${entry[name]}`).join(", ")}`,
    spoiled: (entry) => `${partOf(entry)}: spoiled`,
    short: (entry) => `${partOf(entry)}: not there${entry.until ? `, awaited until ${entry.until}` : ""}`,
    arrived: (entry) => `${partOf(entry)}: has come`,
    skip: (entry) => `left out, allowed by ${entry.allowed_by}`,
    sign: (entry) => `${entry.role}: signed by ${entry.by}`,
    note: (entry) => `Note: ${entry.text}`,
    "part-done": (entry) => `${entry.of > 1 ? `pass ${entry.pass} of ${entry.of}, ` : ""}${entry.count} ${entry.count === 1 ? "fastener" : "fasteners"} tightened`,
  };

  /** Return which card an entry is listed on. */
  const isAbout = (entry, step, card) => {
    if (entry.step) return entry.step === step.id;
    if (["reading", "accept"].includes(entry.kind)) return step.checks.includes(entry.check);
    if (entry.kind === "torque") return Boolean(one(`[data-joint][data-torque="${CSS.escape(entry.joint)}"]`, card));
    if (entry.part) return Boolean(one(`[data-part="${CSS.escape(entry.part)}"]`, card));
    return false;
  };

  const torqueVerdict = (entry) => {
    const rules = bench.data.joints[entry.joint];
    return rules ? ` – ${verdictText(Judging.torque(rules, entry.value))}` : "";
  };

  const line = (entry, isCounting) => {
    const item = document.createElement("li");
    const words = document.createElement("span");
    words.textContent = `${time(entry)} ${SAID[entry.kind](entry)}${entry.kind === "torque" && isCounting ? torqueVerdict(entry) : ""}`;
    item.append(words);
    if (!isCounting) {
      words.className = "crossed";
      item.append(Object.assign(document.createElement("span"), { textContent: "taken back" }));
    } else if (!entry.isTyped) {
      const button = Object.assign(document.createElement("button"), { type: "button", textContent: "Wrong" });
      button.dataset.act = "wrong";
      button.dataset.entry = entry.id;
      button.setAttribute("aria-label", `Wrong, take it back: ${words.textContent}`);
      item.append(button);
    }
    return item;
  };

  const showRecorded = (card, step, entries, counting) => {
    const boxes = new Set(all("[data-says]", card).map((box) => box.dataset.says));
    const last = bench.state.partDone.get(step.id);
    const isShown = (entry) => {
      if (entry.kind === "note") return !boxes.has(entry.text);
      return entry.kind !== "part-done" || Boolean(last && last.id === entry.id);
    };
    const about = entries.filter((entry) => SAID[entry.kind] && isAbout(entry, step, card) && isShown(entry));
    const list = one("[data-recorded]", card);
    const key = about.map((entry) => `${entry.id} ${JSON.stringify(counting.get(entry.id))}`).join();
    if (list.dataset.key === key) return; // so that the focus stays where it is
    list.dataset.key = key;
    list.parentElement.hidden = !about.length;
    list.replaceChildren(...about.map((entry) => line(counting.get(entry.id) || entry, counting.has(entry.id))));
  };

  const torqueRules = (form) =>
    "joint" in form.dataset ? bench.data.joints[form.dataset.torque] : bench.data.ownTorques[form.dataset.torque];

  /** Show on every card what the state says of it. */
  const show = (now = new Date()) => {
    const counting = new Map(Entries.counting(bench.entries).map((entry) => [entry.id, entry]));
    for (const card of all("[data-step]")) {
      const step = stepOf(card);
      showSaid(card, step);
      showTick(card, step);
      showTightening(card, step);
      showChecks(card);
      showPieces(card);
      showHold(card, step);
      showWaits(card, step, now);
      showRecorded(card, step, bench.entries, counting);
    }
    for (const place of all("[data-worn]")) showSaid(place, null);
    showIsolation();
  };

  /** Take the cards into use; `job` holds the state and the entries. */
  const use = (job) => {
    bench = job;
    for (const form of all("[data-torque]")) setText(one("[data-unit]", form), torqueRules(form).unit);
  };

  return { use, show, tell, stepOf, setText, showVerdict, verdictText, torqueRules };
})();
