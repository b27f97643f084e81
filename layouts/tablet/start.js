"use strict";
/* The page as a whole: who is at the bench and on which unit, where the job stands, and the start. */

const Page = (() => {
  const by = (id) => document.getElementById(id);
  const data = JSON.parse(by("job").textContent);
  const EVERY = 5000; // milliseconds between two looks at the clock

  const bench = { data, entries: [], marks: new Set(), state: null, who: "", unit: null };
  const late = new Set();
  let waiting = null; // what is to be recorded as soon as somebody has said who it is
  let link = "";

  const say = (text) => {
    if (text) by("told").textContent = text;
  };

  const keep = () => {
    const saved = Keeping.save(bench.unit || "", bench.entries, [...bench.marks]);
    bench.entries = saved.entries;
    if (!saved.isKept) notKept("This browser could not keep it: no room, or storage is off. Export before you close the page.");
    refresh();
  };

  const notKept = (text) => {
    by("not-kept").hidden = false;
    Cards.setText(by("not-kept"), text);
  };

  const load = () => {
    const { entries, marks } = Keeping.job(bench.unit || "");
    bench.entries = entries;
    bench.marks = new Set(marks);
    refresh();
  };

  /** Record something; whoever has not said who they are is asked first. */
  bench.record = (kind, fields, { by: name = "", despite = [], said = "" } = {}, then = () => {}) => {
    if (!bench.who) {
      waiting = () => bench.record(kind, fields, { by: name, despite, said }, then);
      ask();
      refresh();
      return;
    }
    const entry = Entries.make(kind, fields, name || bench.who, data.fingerprint, despite);
    bench.entries = [...bench.entries, entry];
    hideExport();
    keep();
    say(said);
    then();
  };

  bench.mark = (name, isTicked) => {
    if (isTicked) bench.marks.add(name);
    else bench.marks.delete(name);
    keep();
  };

  bench.takeBackNote = (step, text) => {
    const counting = Entries.counting(bench.entries);
    const entry = counting.find((one) => one.kind === "note" && one.step === step && one.text === text);
    if (entry) bench.record("correct", { corrects: entry.id, why: "ticked by mistake" }, { said: "taken back" });
  };

  // Where the job stands -----------------------------------------------------------------------

  const showClocks = (now) => {
    const running = Turns.running(bench.state, now);
    const list = by("clocks");
    const items = running.map((clock) => {
      const item = document.createElement("li");
      item.className = clock.isLate ? "late" : "";
      item.textContent = clock.words;
      return item;
    });
    if (items.map((item) => item.textContent).join() !== [...list.children].map((item) => item.textContent).join()) {
      list.replaceChildren(...items);
    }
    list.hidden = !items.length;
    for (const clock of running.filter((one) => one.isLate && !late.has(one.step.id))) {
      late.add(clock.step.id);
      say(clock.words);
    }
  };

  const showBar = () => {
    const { state } = bench;
    const printed = data.steps.filter((step) => step.number !== null);
    const open = state.open();
    Cards.setText(by("progress"), `${printed.length - open.length} of ${printed.length} done`);
    const next = open[0];
    by("next-link").href = next ? `#step-${next.number}` : "#exchange-title";
    Cards.setText(by("next-link"), next ? `Next: step ${next.number}, ${next.short}` : "All done: export it");
    const own = bench.entries.filter((entry) => entry.from !== "log").length;
    Cards.setText(by("unexported"), own ? `${own} ${own === 1 ? "entry" : "entries"} to export.` : "Nothing to export yet.");
    Cards.setText(by("unit-shown"), bench.unit || "without a number");
    Cards.setText(by("who-shown"), bench.who || "not said");
  };

  const refresh = () => {
    bench.state = Entries.replay(data, bench.entries);
    const now = new Date();
    Cards.show(now);
    showClocks(now);
    showBar();
  };

  // Who, and which unit -------------------------------------------------------------------------

  const ask = () => {
    by("who-initials").value = bench.who;
    by("who-unit").value = bench.unit || "";
    by("who").showModal();
  };

  const answered = (event) => {
    event.preventDefault();
    const who = by("who-initials").value.trim();
    if (!who) return;
    bench.who = who;
    const unit = by("who-unit").value.trim();
    const isOther = unit !== (bench.unit || "");
    bench.unit = unit;
    Keeping.setNow(bench.who, bench.unit);
    by("who").close();
    if (isOther) load();
    else refresh();
    const then = waiting;
    waiting = null;
    if (then) then();
  };

  // Out and in ----------------------------------------------------------------------------------

  const hideExport = () => {
    by("download").hidden = true;
    by("lines").value = "";
  };

  const makeExport = () => {
    const lines = Exchange.linesOf(data, bench.unit || "", bench.entries);
    by("lines").value = lines;
    if (link) URL.revokeObjectURL(link);
    link = URL.createObjectURL(new Blob([lines], { type: "application/jsonl" }));
    const download = by("download");
    download.href = link;
    download.download = Exchange.fileName(data, bench.unit || "", bench.entries.length);
    download.hidden = false;
    download.focus();
    say("The export is ready: save the file, or copy its lines.");
  };

  const showLog = async () => {
    const file = by("log-file").files[0];
    try {
      const text = file ? await file.text() : by("log-text").value;
      const found = Exchange.read(data, bench.unit || "", text);
      const before = bench.entries.length;
      bench.entries = Exchange.merged(bench.entries, found);
      keep();
      by("imported").textContent = `Read: ${found.length} entries, ${bench.entries.length - before} of them new here.`;
      by("log-file").value = "";
      by("log-text").value = "";
    } catch (fault) {
      if (!(fault instanceof Exchange.NotThis) && !(fault instanceof DOMException)) throw fault;
      by("imported").textContent = `Nothing was read. ${fault.message}`;
    }
  };

  const start = () => {
    Amounts.useUnits(data.units, data.noUnits);
    Formulas.useDimensions(data.dimensions);
    if (!Keeping.open(data.fingerprint)) {
      notKept("This browser keeps nothing (a private window, or storage is off): ticks are gone when the page is closed. Export before that.");
    }
    ({ who: bench.who, unit: bench.unit } = Keeping.now());
    Cards.use(bench);
    load();
    by("change-who").addEventListener("click", ask);
    by("who-form").addEventListener("submit", answered);
    by("who-cancel").addEventListener("click", () => by("who").close());
    by("who").addEventListener("close", () => {
      if (!bench.who) waiting = null;
    });
    by("export").addEventListener("click", makeExport);
    by("import").addEventListener("click", showLog);
    window.addEventListener("storage", (event) => {
      if (event.key === Keeping.keyOf(bench.unit || "")) load();
    });
    if (!bench.who) ask();
    setInterval(() => {
      const now = new Date();
      Cards.show(now);
      showClocks(now);
    }, EVERY);
  };

  return { start, bench };
})();

Page.start();
