"use strict";
/* Where the job stands: how far it is, what is next, which clocks run, and what a person is told. */

const Bar = (() => {
  const by = (id) => document.getElementById(id);
  const late = new Set();
  let waited = new Set(); // the steps that had to wait when the clock was looked at last
  const { setText } = Cards;

  /** Say something to those who do not see the page. */
  const say = (text) => {
    if (text) by("told").textContent = text;
  };

  const tellAbove = (id, text) => {
    by(id).hidden = !text;
    setText(by(id), text);
  };

  const counted = (count) => `${count} ${count === 1 ? "entry" : "entries"}`;

  const showClocks = (bench, now) => {
    const running = Turns.running(bench.state, now);
    const fault = Turns.clockFault(bench.entries, now);
    const told = [...(fault ? [{ words: fault, isLate: true }] : []), ...running];
    const list = by("clocks");
    const items = told.map((clock) =>
      Object.assign(document.createElement("li"), { className: clock.isLate ? "late" : "", textContent: clock.words }));
    const words = (some) => some.map((item) => item.textContent).join("\n");
    if (words(items) !== words([...list.children])) list.replaceChildren(...items);
    list.hidden = !items.length;
    for (const clock of running.filter((one) => one.isLate && !late.has(one.step.id))) {
      late.add(clock.step.id);
      say(clock.words);
    }
    const waiting = new Set(running.filter((one) => one.isWait).map((one) => one.step));
    for (const step of waited) {
      if (!waiting.has(step) && !bench.state.isSettled(step.id)) say(`${Turns.named(step)} may begin now`);
    }
    waited = waiting;
  };

  const showProgress = ({ data, state, entries, exported, unit, who }) => {
    const printed = data.steps.filter((step) => step.number !== null);
    const open = state.open();
    const [next] = open;
    setText(by("progress"), `${printed.length - open.length} of ${printed.length} done`);
    by("next-link").href = next ? `#step-${next.number}` : "#end";
    setText(by("next-link"), next ? `Next: step ${next.number}, ${next.short}` : "All done: export it");
    const own = entries.filter((entry) => entry.from !== "log").length;
    const fresh = Keeping.unexported({ entries, exported });
    const all = `${counted(own)} to export`;
    setText(by("unexported"), own ? `${all}, ${fresh ? `${fresh} of them in no export yet` : "all of them in an export"}.` : "Nothing to export yet.");
    setText(by("unit-shown"), unit || "without a number");
    setText(by("who-shown"), who || "not said");
  };

  /** Tell what pages of other issues hold here, which nobody will see on this one. */
  const showOtherIssues = () => {
    const found = Keeping.ofOtherIssues().map(({ issue, model, unit, count }) =>
      `${counted(count)} of issue ${issue}, model ${model}, unit ${unit || "without a number"}`);
    const what = `This browser holds what was recorded on another page of this job and is in no export yet: ${found.join("; ")}.`;
    tellAbove("other-issues", found.length ? `${what} It is not shown here. Open that page, and export it.` : "");
  };

  const show = (bench, now = new Date()) => {
    showClocks(bench, now);
    showProgress(bench);
  };

  return { show, showClocks, counted, showOtherIssues, say, tellAbove };
})();
