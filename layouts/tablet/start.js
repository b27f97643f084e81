"use strict";
/* The page as a whole: who is at the bench and on which unit, what is kept, out and in, the start. */

const Page = (() => {
  const by = (id) => document.getElementById(id);
  const data = JSON.parse(by("job").textContent);
  // A name that an import brings is looked up here, and must not find what every object has.
  for (const name of ["checks", "joints", "parts", "ownTorques"]) Object.setPrototypeOf(data[name], null);
  const EVERY = 5000; // milliseconds between two looks at the clock
  const NOT_KEPT = "This browser could not keep it: no room, or storage is off. Export before you close the page.";
  const KEEPS_NOTHING = "This browser keeps nothing (a private window, or storage is off): ticks are gone when the page is closed. Export before that.";

  const bench = { data, entries: [], exported: [], state: null, who: "", unit: null };
  let isKept = true;
  let waiting = null; // what is to be recorded as soon as somebody has said who it is
  let link = "";

  const refresh = () => {
    bench.state = Entries.replay(data, bench.entries);
    const now = new Date();
    Cards.show(now);
    Bar.show(bench, now);
  };

  const keep = () => {
    const saved = Keeping.save(bench.unit || "", bench.entries, bench.exported);
    ({ entries: bench.entries, exported: bench.exported } = saved);
    if (isKept && !saved.isKept) Bar.tellAbove("not-kept", NOT_KEPT);
    isKept = saved.isKept;
    refresh();
  };

  const load = () => {
    ({ entries: bench.entries, exported: bench.exported } = Keeping.job(bench.unit || ""));
    refresh();
  };

  /** Take in what another window has recorded. */
  const takeIn = () => {
    const there = Keeping.elsewhere(bench.unit || "");
    bench.entries = Exchange.merged(bench.entries, there.entries);
    bench.exported = [...new Set([...bench.exported, ...there.exported])];
    hideExport();
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
    Bar.say(said);
    then();
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
    const unit = by("who-unit").value.trim();
    const isOther = unit !== (bench.unit || "");
    Object.assign(bench, { who, unit });
    Keeping.setNow(bench.who, bench.unit);
    by("who").close();
    hideExport();
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
    Bar.say("The export is ready: save the file, or copy its lines.");
  };

  /** Keep in mind that what stands here is in an export that was saved or copied. */
  const exported = () => {
    bench.exported = bench.entries.filter((entry) => entry.from !== "log").map((entry) => entry.id);
    keep();
  };

  const showLog = async () => {
    const file = by("log-file").files[0];
    try {
      const text = file ? await file.text() : by("log-text").value;
      const found = Exchange.read(data, bench.unit || "", text);
      const before = bench.entries.length;
      bench.entries = Exchange.merged(bench.entries, found);
      hideExport();
      keep();
      by("imported").textContent = `Read: ${Bar.counted(found.length)}, ${bench.entries.length - before} of them new here.`;
      by("log-file").value = "";
      by("log-text").value = "";
    } catch (fault) {
      if (!(fault instanceof Exchange.NotThis) && !(fault instanceof DOMException)) throw fault;
      by("imported").textContent = `Nothing was read. ${fault.message}`;
    }
  };

  // The start -----------------------------------------------------------------------------------

  const look = () => {
    const now = new Date();
    Cards.show(now);
    Bar.showClocks(bench, now);
  };

  const listen = () => {
    by("change-who").addEventListener("click", ask);
    by("who-form").addEventListener("submit", answered);
    by("who-cancel").addEventListener("click", () => by("who").close());
    by("who").addEventListener("close", () => {
      if (!bench.who) waiting = null;
    });
    by("export").addEventListener("click", makeExport);
    by("download").addEventListener("click", exported);
    by("lines").addEventListener("copy", exported);
    by("import").addEventListener("click", showLog);
    window.addEventListener("storage", (event) => {
      if (event.key === Keeping.keyOf(bench.unit || "")) takeIn();
    });
    window.addEventListener("beforeunload", (event) => {
      if (!isKept && Keeping.unexported(bench)) event.preventDefault();
    });
    document.addEventListener("visibilitychange", look);
    setInterval(look, EVERY);
  };

  const start = () => {
    Amounts.useUnits(data.units, data.noUnits);
    Formulas.useDimensions(data.dimensions);
    isKept = Keeping.open(data);
    Bar.tellAbove("not-kept", isKept ? "" : KEEPS_NOTHING);
    Bar.showOtherIssues();
    ({ who: bench.who, unit: bench.unit } = Keeping.now());
    Cards.use(bench);
    Acts.use(bench);
    load();
    listen();
    if (!bench.who) ask();
  };

  return { start, bench };
})();

Page.start();
