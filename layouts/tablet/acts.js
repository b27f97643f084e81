"use strict";
/* What is done by tapping and typing on the page: ticks, readings, signatures, notes. */

const Acts = (() => {
  let bench = null; // the job: its state, its entries, and how to record

  const cardOf = (element) => element.closest("[data-step]");
  const { stepOf, tell } = Cards;
  /** Take away what a card objected to: something was done about it, or about something else. */
  const hush = (card) => {
    if (card) tell(card, "", false);
  };
  const focus = (selector, root) => root.querySelector(selector).focus();

  // Ticks --------------------------------------------------------------------------------------

  const tick = (card, isAnyway) => {
    const step = stepOf(card);
    if (bench.state.done.has(step.id)) return;
    const barred = Turns.barred(bench.state, step);
    const against = Turns.against(bench.state, step, new Date());
    if (barred) tell(card, barred, false);
    else if (against.length && !isAnyway) {
      tell(card, `Before its turn: ${against.join("; ")}.`, true);
      focus('[data-act="anyway"]', card);
    } else {
      bench.record("done", { steps: [step.id] }, { despite: against, said: `${Turns.named(step)} done` }, () => {
        hush(card);
        focus('[data-act="done"]', card);
      });
    }
  };

  const takeBack = (card, isMistake) => {
    const step = stepOf(card);
    const entry = bench.state.done.get(step.id) || bench.state.skipped.get(step.id);
    if (!entry) return;
    const isOneOfMany = entry.kind === "done" && entry.steps.length > 1;
    const mistake = { corrects: entry.id, ...(isOneOfMany ? { step: step.id } : {}), why: "ticked by mistake" };
    const [kind, fields] = isMistake ? ["correct", mistake] : ["undone", { steps: [step.id] }];
    bench.record(kind, fields, { said: `${Turns.named(step)} is not done` }, () => focus('[data-act="done"]', card));
  };

  const wrong = (button) => {
    const place = cardOf(button) || button.closest("[data-isolation]");
    bench.record("correct", { corrects: button.dataset.entry, why: "wrong" }, { said: "taken back" }, () =>
      (place.matches("[data-step]") ? place : place.querySelector("input")).focus());
  };

  /** Take back the words of a box: every entry of them, since another tablet may have it too. */
  const takeBackSaid = (step, text) => {
    const found = Entries.counting(bench.entries).filter(
      (one) => one.kind === "note" && (one.step || "") === step && one.text === text,
    );
    const [typed, own] = [found.filter((one) => one.isTyped), found.filter((one) => !one.isTyped)];
    for (const one of own) bench.record("correct", { corrects: one.id, why: "ticked by mistake" }, { said: "taken back" });
    return !typed.length;
  };

  /** Record the words of a box that was ticked, or take them back. */
  const tickSaid = (box) => {
    const card = cardOf(box);
    const step = card ? stepOf(card).id : "";
    const text = box.dataset.says;
    hush(card);
    if (box.checked) bench.record("note", { text, ...(step ? { step } : {}) }, { said: "ticked" });
    else if (!takeBackSaid(step, text)) {
      tell(card, "This tick was typed into the log: it is taken back there.", false);
      Cards.show();
    }
  };

  /** Record how far the tightening of a step got: whole passes, or fasteners where there is one. */
  const tickTightening = (box) => {
    const card = cardOf(box);
    const step = stepOf(card);
    const [pass, of] = [Number(box.dataset.pass), Number(box.dataset.of)];
    const part = bench.state.partDone.get(step.id);
    const last = part ? part.pass : 0;
    if (box.checked && pass > last + 1) {
      tell(card, `Pass ${last + 1} comes first: every fastener goes through a pass before the next begins.`, false);
      Cards.show();
      return;
    }
    hush(card);
    const count = Number(box.checked ? box.dataset.count : box.dataset.less);
    bench.record("part-done", { step: step.id, pass, count, of }, { said: of > 1 ? `pass ${pass} ${box.checked ? "done" : "open"}` : `${count} tightened` });
  };

  // What is measured and what was used -----------------------------------------------------------

  const recordReading = (blank, value) => {
    const panel = blank.closest("[data-check]");
    const rules = bench.data.checks[panel.dataset.check];
    const round = panel.querySelector("[data-round]");
    const fields = { check: rules.id, value: Judging.withUnit(value, rules.unit) };
    if (blank.dataset.place) fields.place = blank.dataset.place;
    if (round) fields.round = Number(round.value);
    bench.record("reading", fields);
  };

  const kept = (values, names) => Object.fromEntries(names.filter((name) => values[name]).map((name) => [name, values[name]]));

  const recordTorque = (form, values) => {
    const rules = Cards.torqueRules(form);
    const value = Judging.withUnit(values.value, rules.unit);
    const verdict = Judging.torque(rules, value);
    const isJoint = "joint" in form.dataset;
    const fields = isJoint
      ? { joint: form.dataset.torque, value, ...kept(values, ["wrench", "place"]) }
      : { text: `Torque: ${value}`, step: form.dataset.torque };
    bench.record(isJoint ? "torque" : "note", fields, {}, () => {
      Cards.showVerdict(form.querySelector("[data-verdict]"), `${value}: ${Cards.verdictText(verdict)}`, Judging.isOk(verdict));
    });
  };

  const recordPiece = (form, values) => {
    const fields = kept(values, ["serial", "batch", "pack", "mark", "with"]);
    if (Object.keys(fields).length) bench.record("fitted", { part: form.dataset.part, ...fields }, { said: "recorded" });
  };

  /** Record what became of a part; the button that is offered next gets the focus. */
  const recordFate = (button, kind) => {
    const form = button.closest("[data-part]");
    const { part } = form.dataset;
    const fields = kind === "spoiled" ? { part, step: stepOf(form).id } : { part };
    const next = { short: "arrived", arrived: "short" }[kind];
    const said = { short: "awaited", arrived: "has come", spoiled: "spoiled" }[kind];
    bench.record(kind, fields, { said: `${bench.data.parts[part]}: ${said}` }, () => {
      if (next) focus(`[data-act="${next}"]`, form);
      else cardOf(form).focus();
    });
  };

  // Names and words ------------------------------------------------------------------------------

  const leaveOut = (form, { name }) => {
    const step = stepOf(form);
    const said = { said: `${Turns.named(step)} left out` };
    bench.record("skip", { step: step.id, allowed_by: name }, said, () => cardOf(form).focus());
  };

  const accept = (form, { name }) =>
    bench.record("accept", { check: form.dataset.accept }, { by: name, said: "used as it is" }, () => cardOf(form).focus());

  /** Sign at a hold point: for what is done, so that the tick comes first. */
  const signHold = (form, { name }) => {
    const step = stepOf(form);
    if (!bench.state.done.has(step.id)) tell(cardOf(form), "Tick the step first: who signs does so for what is done.", false);
    else bench.record("sign", { role: form.dataset.sign, step: step.id }, { by: name, said: "signed" });
  };

  const signIsolation = (form, { name }) =>
    bench.record("sign", { role: form.dataset.isolation }, { by: name, said: "signed" }, () => focus("[data-act]", form));

  const SUBMITTED = [
    [".reading", "value", (form, values) => recordReading(form, values.value)],
    ["[data-torque]", "value", recordTorque],
    ["[data-part]", "", recordPiece],
    ["[data-note]", "text", (form, { text }) => bench.record("note", { text, step: stepOf(form).id }, { said: "noted" })],
    ["[data-sign]", "name", signHold],
    ["[data-accept]", "name", accept],
    ["[data-skip]", "name", leaveOut],
    ["[data-isolation]", "name", signIsolation],
  ];

  const onSubmit = (event) => {
    const form = event.target;
    const [, wanted, act] = SUBMITTED.find(([selector]) => form.matches(selector)) || [];
    if (!act) return;
    event.preventDefault();
    const values = Object.fromEntries([...new FormData(form)].map(([name, value]) => [name, value.trim()]));
    const before = bench.entries.length;
    hush(cardOf(form));
    if (!wanted || values[wanted]) act(form, values);
    if (bench.entries.length > before) form.reset();
  };

  const onClick = (event) => {
    const button = event.target.closest("[data-act]");
    if (!button) return;
    const card = cardOf(button);
    const actions = {
      done: () => tick(card, false),
      anyway: () => tick(card, true),
      mistake: () => takeBack(card, true),
      undone: () => takeBack(card, false),
      choose: () => recordReading(button.closest("[data-place]"), button.dataset.value),
      wrong: () => wrong(button),
      spoiled: () => recordFate(button, "spoiled"),
      short: () => recordFate(button, "short"),
      arrived: () => recordFate(button, "arrived"),
    };
    hush(card);
    actions[button.dataset.act]();
  };

  const onChange = ({ target }) => {
    if (target.dataset.says) tickSaid(target);
    if (target.dataset.pass) tickTightening(target);
  };

  /** Take the page into use; `job` holds the state and records. */
  const use = (job) => {
    bench = job;
    document.addEventListener("submit", onSubmit);
    document.addEventListener("click", onClick);
    document.addEventListener("change", onChange);
  };

  return { use };
})();
