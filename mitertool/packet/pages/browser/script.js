"use strict";
(() => {
  const page = document.body;
  const all = (path, from) => Array.from((from || document).querySelectorAll(path));
  const boxes = all("input[type=checkbox]");
  const fields = all("input[type=number]");
  const inFull = (field) => Number(field.max);
  const counted = (field) => Math.min(inFull(field), Math.max(0, Math.trunc(Number(field.value)) || 0));
  const sum = (found, of) => found.reduce((before, one) => before + of(one), 0);
  const marks = all("[data-piece]");
  const scrap = new Map(marks.map((one) => [one.dataset.piece, 0]));

  const stored = () => {
    try { return JSON.parse(localStorage.getItem(page.dataset.key)) || {}; } catch { return null; }
  };
  const keep = () => {
    const state = {
      ticks: boxes.filter((box) => box.checked).map((box) => box.id),
      counts: Object.fromEntries(fields.map((field) => [field.id, counted(field)])),
      scrap: Object.fromEntries(scrap),
    };
    try { localStorage.setItem(page.dataset.key, JSON.stringify(state)); } catch { refused(); }
  };
  const refused = () => { document.getElementById("not-kept").hidden = false; };
  const show = (name, value, from) => all(`[data-shows="${name}"]`, from).forEach((one) => { one.textContent = value; });

  const restore = () => {
    const state = stored();
    if (state === null) { refused(); return; }
    const ticks = new Set(state.ticks || []);
    boxes.forEach((box) => { box.checked = ticks.has(box.id); });
    fields.forEach((field) => { field.value = (state.counts || {})[field.id] || 0; });
    scrap.forEach((_, mark) => { scrap.set(mark, Math.max(0, Math.trunc((state.scrap || {})[mark]) || 0)); });
  };

  const number = "\ue000";
  const tickedIn = (row) =>
    all("input[type=checkbox]", row).filter((box) => box.checked).length + sum(all("input[type=number]", row), counted);
  const cutsIn = (row) => all("input[type=checkbox]", row).length + sum(all("input[type=number]", row), inFull);

  const cutOf = new Map();
  const count = () => {
    const done = boxes.filter((box) => box.checked).length + sum(fields, counted);
    const whole = boxes.length + sum(fields, inFull);
    show("done", done);
    show("all", whole);
    show("to-do", whole - done);
    const meter = document.getElementById("meter");
    meter.max = Math.max(1, whole);
    meter.value = done;
    cutOf.clear();
    all(".cut").forEach((row) => {
      const ticked = tickedIn(row);
      row.classList.toggle("all-done", ticked === cutsIn(row));
      [row.dataset.mark, row.dataset.beside].filter(Boolean).forEach((mark) => {
        cutOf.set(mark, (cutOf.get(mark) || 0) + ticked * Number(row.dataset.each || 1));
      });
    });
    marks.forEach((one) => {
      const mark = one.dataset.piece;
      const cut = cutOf.get(mark) || 0;
      scrap.set(mark, Math.min(scrap.get(mark), cut));
      const good = cut - scrap.get(mark);
      show("good", good, one);
      show("scrap", scrap.get(mark), one);
      show("left", Math.max(0, Number(one.dataset.asked) - good), one);
    });
  };

  const rows = () => {
    const found = page.dataset.opening.split("\n");
    marks.forEach((one) => {
      const good = Math.min(Number(one.dataset.asked), (cutOf.get(one.dataset.piece) || 0) - scrap.get(one.dataset.piece));
      if (good > 0) found.push(one.dataset.before + good + one.dataset.after);
      if (scrap.get(one.dataset.piece)) found.push(one.dataset.spoiled + scrap.get(one.dataset.piece) + one.dataset.after);
    });
    all("[data-becomes]").forEach((row) => {
      if (tickedIn(row)) found.push(row.dataset.becomes.replaceAll(number, tickedIn(row)).replaceAll("\n", "\r\n"));
    });
    const blanks = new Map();
    all("[data-blank]").forEach((row) => {
      blanks.set(row.dataset.blank, (blanks.get(row.dataset.blank) || 0) + tickedIn(row));
    });
    all("[data-later]").forEach((row) => {
      const made = Math.min(blanks.get(row.dataset.mark) || 0, cutsIn(row));
      blanks.set(row.dataset.mark, blanks.get(row.dataset.mark) - made);
      if (made > tickedIn(row)) found.push(row.dataset.later.replace(number, made - tickedIn(row)));
    });
    all(".cut[data-cut-row]").forEach((row) => {
      if (tickedIn(row)) found.push(tickedIn(row) === cutsIn(row) ? row.dataset.cutRow : row.dataset.begunRow);
    });
    const left = [];
    all("[data-rests]").forEach((work) => {
      const rests = work.dataset.rests.split(" ");
      const reached = new Map();
      all("input[data-bar]", work).filter((box) => box.checked).forEach((box) => {
        reached.set(box.dataset.bar, Math.max(reached.get(box.dataset.bar) || 0, Number(box.dataset.cut)));
      });
      const bars = Number(work.dataset.bars);
      const of = (field, whole) => whole(counted(field) / Number(field.dataset.cuts));
      const fieldsOf = all("input[data-cuts]", work);
      const gone = Math.max(reached.size, ...fieldsOf.map((field) => of(field, Math.ceil)));
      const done = fieldsOf.length ? Math.min(...fieldsOf.map((field) => of(field, Math.floor))) : 0;
      const copies = reached.size ? [...reached.keys()] : Array.from({ length: gone }, (_, copy) => copy + 1);
      copies.forEach((copy) => {
        const cut = reached.size ? all(`input[data-bar="${copy}"]`, work).every((box) => box.checked) : copy <= done;
        found.push((cut ? work.dataset.cutRow : work.dataset.begunRow).replace(number, copy));
      });
      const ofStock = bars * gone - Number(work.dataset.offRack);
      if (ofStock > 0) found.push(work.dataset.used + ofStock + work.dataset.after);
      reached.forEach((cut) => {
        if (Number(rests[cut - 1]) > 0) left.push(`${work.dataset.left}${rests[cut - 1]} mm,${bars}${work.dataset.after}`);
      });
    });
    return [...found, ...left].map((row) => `${row}\r\n`).join("");
  };

  const write = () => {
    const link = document.createElement("a");
    const url = URL.createObjectURL(new Blob([rows()], { type: "text/csv;charset=utf-8" }));
    link.href = url;
    link.download = "done.csv";
    page.append(link);
    link.click();
    link.remove();
    setTimeout(() => URL.revokeObjectURL(url), 1000);
  };

  const next = () => {
    const box = all(".cut input").find((one) => (one.type === "checkbox" ? !one.checked : counted(one) < inFull(one)));
    if (!box) return;
    box.focus({ preventScroll: true });
    box.closest(".cut").scrollIntoView({ block: "center" });
  };

  const anew = (event) => {
    if (!confirm(event.currentTarget.dataset.asks)) return;
    boxes.forEach((box) => { box.checked = false; });
    fields.forEach((field) => { field.value = 0; });
    scrap.forEach((_, mark) => scrap.set(mark, 0));
    keep();
    count();
  };

  const step = (event) => {
    const mark = event.currentTarget.closest("[data-piece]").dataset.piece;
    scrap.set(mark, Math.max(0, scrap.get(mark) + Number(event.currentTarget.dataset.step)));
    count();
    keep();
  };

  restore();
  count();
  boxes.forEach((box) => box.addEventListener("change", () => { count(); keep(); }));
  fields.forEach((field) => field.addEventListener("change", () => { field.value = counted(field); count(); keep(); }));
  all("[data-step]").forEach((button) => button.addEventListener("click", step));
  document.getElementById("next").addEventListener("click", next);
  document.getElementById("write").addEventListener("click", write);
  document.getElementById("anew").addEventListener("click", anew);
  document.getElementById("only").addEventListener("click", (event) => {
    const only = page.classList.toggle("only-to-do");
    event.currentTarget.setAttribute("aria-pressed", String(only));
  });
  window.addEventListener("storage", (event) => { if (event.key === page.dataset.key) { restore(); count(); } });
  all(".scripted").forEach((one) => { one.hidden = false; });
})();
