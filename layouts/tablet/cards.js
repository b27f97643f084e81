"use strict";
/* The cards: what the state says of each step, and what is done by tapping on them. */

const Cards = (() => {
  let bench = null; // the job: state, marks, and how to record

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

  const showTick = (card, step) => {
    const { state } = bench;
    const entry = state.done.get(step.id);
    const isDone = Boolean(entry);
    const tick = one('[data-act="done"]', card);
    const [stopped] = isDone ? [] : Turns.stopped(state, step);
    card.classList.toggle("is-done", isDone);
    tick.setAttribute("aria-pressed", String(isDone));
    tick.setAttribute("aria-disabled", String(Boolean(stopped) || isDone));
    setText(one("[data-tick-label]", tick), isDone ? `Done ${time(entry)}, ${entry.by}` : "Tick as done");
    one("[data-undo]", card).hidden = !isDone;
    if (isDone) tell(card, "", false);
    const other = step.settles.find((name) => name !== step.id && state.isSettled(name));
    let words = "";
    if (isDone) words = ` · done ${time(entry)}`;
    else if (state.skipped.has(step.id)) words = " · left out, by the log";
    else if (other) words = " · not needed: another way was taken";
    else if (stopped) words = ` · waits for the STOP line of ${Turns.named(stopped)}`;
    setText(one("[data-state]", card), words);
  };

  const showStops = (card, step) => {
    for (const box of all("[data-stop]", card)) {
      box.checked = Turns.isConfirmed(bench.state, step, box.dataset.stop) || bench.state.isSettled(step.id);
      box.disabled = bench.state.isSettled(step.id);
      const isTicked = bench.state.isSettled(box.dataset.missed);
      setText(one("[data-stop-state]", box.parentElement), isTicked ? "" : " – not ticked here");
    }
  };

  const showPasses = (card, step) => {
    const part = bench.state.partDone.get(step.id);
    for (const box of all("[data-pass]", card)) {
      const pass = Number(box.dataset.pass);
      const isTicked = "counted" in box.dataset
        ? part && (part.pass > pass || (part.pass === pass && part.count >= Number(box.dataset.count)))
        : Turns.isConfirmed(bench.state, step, box.dataset.text);
      box.checked = Boolean(isTicked) || bench.state.isSettled(step.id);
      box.disabled = bench.state.isSettled(step.id);
    }
  };

  const showChecks = (card) => {
    for (const panel of all("[data-check]", card)) {
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
        if (taken) showVerdict(output, `${taken.entry.value}: ${verdictText(taken.verdict)}`, Judging.isOk(taken.verdict));
        else showVerdict(output, "", true);
      }
    }
  };

  const showHold = (card, step) => {
    const form = one("[data-sign]", card);
    if (!form) return;
    const entry = bench.state.signed.get(step.id);
    showVerdict(one("[data-verdict]", form), entry ? `Signed ${time(entry)} by ${entry.by}` : "", true);
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

  const SAID = {
    reading: (entry) => `${named(bench.data.checks, entry.check)}${entry.place ? `, ${entry.place}` : ""}: ${entry.value}`,
    torque: (entry) => `${named(bench.data.joints, entry.joint)}${entry.place ? ` ${entry.place}` : ""}: ${entry.value}${entry.wrench ? `, wrench ${entry.wrench}` : ""}`,
    fitted: (entry) => `${bench.data.parts[entry.part] || entry.part}: ${[["serial", entry.serial], ["batch", entry.batch], ["pack", entry.pack]].filter(([, value]) => value).map((pair) => pair.join(" ")).join(", ")}`,
    sign: (entry) => `${entry.role}: signed by ${entry.by}`,
    note: (entry) => `Note: ${entry.text}`,
    "part-done": (entry) => `pass ${entry.pass} of ${entry.of || "?"}, ${entry.count} fasteners`,
  };

  /** Return which card an entry is listed on. */
  const isAbout = (entry, step, card) => {
    if (entry.step) return entry.step === step.id;
    if (entry.kind === "reading") return step.checks.includes(entry.check);
    if (entry.kind === "torque") return Boolean(one(`[data-joint][data-torque="${CSS.escape(entry.joint)}"]`, card));
    if (entry.kind === "fitted") return Boolean(one(`[data-part="${CSS.escape(entry.part)}"]`, card));
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
    } else if (entry.from !== "log") {
      const button = Object.assign(document.createElement("button"), { type: "button", textContent: "Wrong" });
      button.dataset.act = "wrong";
      button.dataset.entry = entry.id;
      button.setAttribute("aria-label", `Wrong, take it back: ${words.textContent}`);
      item.append(button);
    }
    return item;
  };

  const showRecorded = (card, step, entries, counting) => {
    const about = entries.filter((entry) => SAID[entry.kind] && isAbout(entry, step, card));
    const list = one("[data-recorded]", card);
    const key = about.map((entry) => `${entry.id} ${counting.has(entry.id)}`).join();
    if (list.dataset.key === key) return; // so that the focus stays where it is
    list.dataset.key = key;
    list.parentElement.hidden = !about.length;
    list.replaceChildren(...about.map((entry) => line(entry, counting.has(entry.id))));
  };

  const showUnits = (card) => {
    for (const form of all("[data-torque]", card)) setText(one("[data-unit]", form), torqueRules(form).unit);
  };

  /** Show on every card what the state says of it. */
  const show = (now = new Date()) => {
    const counting = new Set(Entries.counting(bench.entries).map((entry) => entry.id));
    for (const card of all("[data-step]")) {
      const step = stepOf(card);
      showStops(card, step);
      showTick(card, step);
      showPasses(card, step);
      showChecks(card);
      showHold(card, step);
      showWaits(card, step, now);
      showRecorded(card, step, bench.entries, counting);
    }
    for (const box of all("[data-mark]")) box.checked = bench.marks.has(box.dataset.mark);
  };

  // What is done on a card -------------------------------------------------------------------

  const tick = (card, isAnyway) => {
    const step = stepOf(card);
    if (bench.state.done.has(step.id)) return;
    const stopped = Turns.stopped(bench.state, step);
    if (stopped.length) {
      tell(card, `Not yet: the STOP line of ${stopped.map(Turns.named).join(", ")} has to be ticked first.`, false);
      return;
    }
    const against = Turns.against(bench.state, step, new Date());
    if (against.length && !isAnyway) {
      tell(card, `Before its turn: ${against.join("; ")}.`, true);
      one('[data-act="anyway"]', card).focus();
      return;
    }
    bench.record("done", { steps: [step.id] }, { despite: against, said: `${Turns.named(step)} done` }, () => {
      tell(card, "", false);
      one('[data-act="done"]', card).focus();
    });
  };

  const takeBack = (step, isMistake) => {
    const entry = bench.state.done.get(step.id);
    if (!entry) return;
    const said = { said: `${Turns.named(step)} is not done` };
    if (!isMistake) bench.record("undone", { steps: [step.id] }, said);
    else if (entry.steps.length > 1) bench.record("correct", { corrects: entry.id, step: step.id, why: "ticked by mistake" }, said);
    else bench.record("correct", { corrects: entry.id, why: "ticked by mistake" }, said);
  };

  const recordReading = (blank, value) => {
    const panel = blank.closest("[data-check]");
    const rules = bench.data.checks[panel.dataset.check];
    const round = one("[data-round]", panel);
    const fields = { check: rules.id, value: Judging.withUnit(value, rules.unit) };
    if (blank.dataset.place) fields.place = blank.dataset.place;
    if (round) fields.round = Number(round.value);
    bench.record("reading", fields, { said: "" });
  };

  const torqueRules = (form) =>
    "joint" in form.dataset ? bench.data.joints[form.dataset.torque] : bench.data.ownTorques[form.dataset.torque];

  const recordTorque = (form, values) => {
    const rules = torqueRules(form);
    const value = Judging.withUnit(values.value, rules.unit);
    const verdict = Judging.torque(rules, value);
    const fields = "joint" in form.dataset
      ? { joint: form.dataset.torque, value, ...kept(values, ["wrench", "place"]) }
      : { text: `Torque: ${value}`, step: form.dataset.torque };
    bench.record("joint" in form.dataset ? "torque" : "note", fields, { said: "" }, () => {
      showVerdict(one("[data-verdict]", form), `${value}: ${verdictText(verdict)}`, Judging.isOk(verdict));
    });
  };

  const kept = (values, names) => Object.fromEntries(names.filter((name) => values[name]).map((name) => [name, values[name]]));

  const recordPiece = (form, values) => {
    const fields = kept(values, ["serial", "batch", "pack"]);
    if (!Object.keys(fields).length) return;
    bench.record("fitted", { part: form.dataset.part, ...fields }, { said: "recorded" });
  };

  const SUBMITTED = [
    [".reading", (form, values) => values.value && recordReading(form, values.value)],
    ["[data-torque]", (form, values) => values.value && recordTorque(form, values)],
    ["[data-part]", recordPiece],
    ["[data-note]", (form, values) => values.text && bench.record("note", { text: values.text, step: stepOf(form).id }, { said: "noted" })],
    ["[data-sign]", (form, values) => values.name && bench.record("sign", { role: form.dataset.sign, step: stepOf(form).id }, { by: values.name, said: "signed" })],
  ];

  const onSubmit = (event) => {
    const form = event.target.closest("[data-step] form");
    if (!form) return;
    event.preventDefault();
    const values = Object.fromEntries([...new FormData(form)].map(([name, value]) => [name, value.trim()]));
    const found = SUBMITTED.find(([selector]) => form.matches(selector));
    const before = bench.entries.length;
    found[1](form, values);
    if (bench.entries.length > before) form.reset();
  };

  const onClick = (event) => {
    const button = event.target.closest("[data-act]");
    if (!button) return;
    const card = button.closest("[data-step]");
    const actions = {
      done: () => tick(card, false),
      anyway: () => tick(card, true),
      mistake: () => takeBack(stepOf(card), true),
      undone: () => takeBack(stepOf(card), false),
      choose: () => recordReading(button.closest("[data-place]"), button.dataset.value),
      wrong: () => bench.record("correct", { corrects: button.dataset.entry, why: "wrong" }, { said: "taken back" }, () => card.focus()),
    };
    actions[button.dataset.act]();
  };

  const tickStop = (box) => {
    const step = stepOf(box);
    if (box.checked) bench.record("note", { text: box.dataset.stop, step: step.id }, { said: "confirmed" }, () => tell(box.closest("[data-step]"), "", false));
    else bench.takeBackNote(step.id, box.dataset.stop);
  };

  const tickPass = (box) => {
    const step = stepOf(box);
    if (!("counted" in box.dataset)) {
      if (box.checked) bench.record("note", { text: box.dataset.text, step: step.id }, { said: box.dataset.text });
      else bench.takeBackNote(step.id, box.dataset.text);
      return;
    }
    const pass = Number(box.dataset.pass);
    const count = box.checked ? Number(box.dataset.count) : 0;
    const part = bench.state.partDone.get(step.id);
    const last = part ? part.pass : 0;
    const card = box.closest("[data-step]");
    if (box.checked && pass > last + 1) {
      tell(card, `Pass ${last + 1} comes first: every fastener goes through a pass before the next begins.`, false);
      show();
      return;
    }
    tell(card, "", false);
    bench.record("part-done", { step: step.id, pass, count, of: Number(box.dataset.of) }, { said: `pass ${pass} ${box.checked ? "done" : "open"}` });
  };

  const onChange = (event) => {
    const box = event.target;
    if (box.dataset.mark) bench.mark(box.dataset.mark, box.checked);
    if (box.dataset.stop) tickStop(box);
    if (box.dataset.pass) tickPass(box);
  };

  /** Take the cards into use; `job` holds the state and records. */
  const use = (job) => {
    bench = job;
    document.addEventListener("submit", onSubmit);
    document.addEventListener("click", onClick);
    document.addEventListener("change", onChange);
    for (const card of all("[data-step]")) showUnits(card);
  };

  return { use, show, setText };
})();
