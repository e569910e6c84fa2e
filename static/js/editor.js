// The editor of a pattern: counts beside the lines, remarks under the words, a suggestion put in by one
// press, unsaved words kept in this browser. Everything here has a plain way without it.
(() => {
  "use strict";
  const form = document.getElementById("editor");
  const area = document.getElementById("text");
  if (!form || !area) return;
  const sheet = document.getElementById("sheet");
  const gutter = document.getElementById("gutter");
  const mirror = document.getElementById("mirror");
  const check = document.getElementById("check");
  const jumps = document.getElementById("jumps");
  const says = document.getElementById("editor-says");
  const draftKey = `hookledger:draft:${form.dataset.slug}`;
  let lines = [];
  let current = -1;

  // ---- the mirror: one box a line, of the same width and type as the field, so heights agree

  function lineBox(text) {
    const box = document.createElement("div");
    box.className = "line";
    box.textContent = text;
    return box;
  }

  function follow() {
    const fresh = area.value.split("\n");
    let head = 0;
    while (head < lines.length && head < fresh.length && lines[head] === fresh[head]) head += 1;
    let tail = 0;
    while (tail < lines.length - head && tail < fresh.length - head
      && lines[lines.length - 1 - tail] === fresh[fresh.length - 1 - tail]) tail += 1;
    const gone = lines.length - head - tail;
    const added = fresh.slice(head, fresh.length - tail);
    for (let i = 0; i < gone; i += 1) {
      mirror.children[head].remove();
      gutter.children[head].remove();
    }
    const beforeBox = mirror.children[head] || null;
    const beforeItem = gutter.children[head] || null;
    for (const text of added) {
      mirror.insertBefore(lineBox(text), beforeBox);
      gutter.insertBefore(document.createElement("li"), beforeItem);
    }
    lines = fresh;
    measure();
  }

  function measure() {
    const heights = Array.from(mirror.children, (box) => box.offsetHeight);
    heights.forEach((height, i) => { gutter.children[i].style.height = `${height}px`; });
    const padding = mirror.clientHeight ? 24 : 0;
    const total = heights.reduce((sum, height) => sum + height, 0);
    area.style.height = `${Math.max(384, total + padding + 26)}px`;
  }

  // ---- what the check answered, drawn beside and under the lines

  function lineStarts() {
    const starts = [0];
    for (const text of lines) starts.push(starts[starts.length - 1] + text.length + 1);
    return starts;
  }

  function drawCounts() {
    const choice = document.getElementById("size-choice");
    const size = choice && choice.value !== "" ? Number(choice.value) : null;
    for (const item of gutter.children) { item.textContent = ""; item.className = ""; item.removeAttribute("title"); }
    for (const row of check.querySelectorAll("tr[data-line]")) {
      const item = gutter.children[Number(row.dataset.line) - 1];
      if (!item) continue;
      const bySize = JSON.parse(row.dataset.sizes);
      const shown = size !== null && size < bySize.length ? bySize[size] : row.dataset.shown;
      item.textContent = shown;
      item.title = shown;
      item.className = row.dataset.verdict;
    }
  }

  function drawRemarks() {
    const starts = lineStarts();
    const marks = new Map();
    for (const remark of check.querySelectorAll(".remark[data-start]")) {
      const from = Number(remark.dataset.start);
      const to = Math.max(Number(remark.dataset.end), from + 1);
      for (let line = 0; line < lines.length; line += 1) {
        const left = Math.max(from, starts[line]) - starts[line];
        const right = Math.min(to, starts[line] + lines[line].length) - starts[line];
        if (starts[line] >= to) break;
        if (right > left) {
          if (!marks.has(line)) marks.set(line, []);
          marks.get(line).push([left, right, remark.dataset.level]);
        }
      }
    }
    lines.forEach((text, line) => {
      const box = mirror.children[line];
      if (!marks.has(line)) {
        if (box.childElementCount) box.textContent = text;
        return;
      }
      box.textContent = "";
      let at = 0;
      for (const [left, right, level] of marks.get(line).sort((a, b) => a[0] - b[0])) {
        if (left < at) continue;
        box.append(text.slice(at, left));
        const mark = document.createElement("mark");
        mark.className = level;
        mark.textContent = text.slice(left, right);
        box.append(mark);
        at = right;
      }
      box.append(text.slice(at));
    });
  }

  function draw() {
    follow();
    drawCounts();
    drawRemarks();
    current = -1;
    jumps.hidden = check.querySelectorAll(".remark[data-start]").length === 0;
  }

  // ---- from remark to remark

  function show(remark) {
    const from = Number(remark.dataset.start);
    const to = Math.max(Number(remark.dataset.end), from);
    for (const other of check.querySelectorAll(".remark.current")) other.classList.remove("current");
    remark.classList.add("current");
    area.focus({ preventScroll: true });
    area.setSelectionRange(from, to);
    const line = area.value.slice(0, from).split("\n").length - 1;
    const box = mirror.children[line];
    if (box) {
      const top = box.getBoundingClientRect().top + window.scrollY - window.innerHeight / 3;
      window.scrollTo({ top: Math.max(0, top) });
    }
    if (check.scrollHeight > check.clientHeight) {
      check.scrollTop += remark.getBoundingClientRect().top - check.getBoundingClientRect().top - 40;
    }
  }

  function jump(step) {
    const remarks = Array.from(check.querySelectorAll(".remark[data-start]"))
      .sort((a, b) => Number(a.dataset.start) - Number(b.dataset.start));
    if (!remarks.length) return;
    current = current < 0 && step < 0 ? remarks.length - 1 : (current + step + remarks.length) % remarks.length;
    show(remarks[current]);
  }

  document.addEventListener("keydown", (event) => {
    if (event.key === "F8") {
      event.preventDefault();
      jump(event.shiftKey ? -1 : 1);
    } else if ((event.ctrlKey || event.metaKey) && event.key.toLowerCase() === "s" && form.contains(document.activeElement)) {
      event.preventDefault();
      form.querySelector('button[value="save"]').click();
    }
  });
  document.getElementById("jump-on").addEventListener("click", () => jump(1));
  document.getElementById("jump-back").addEventListener("click", () => jump(-1));

  // ---- a suggestion by one press; the browser's own undo takes it back, and so does the button

  function replaceRange(from, to, text) {
    area.focus({ preventScroll: true });
    area.setSelectionRange(from, to);
    if (!document.execCommand || !document.execCommand("insertText", false, text)) {
      area.setRangeText(text, from, to, "end");
      area.dispatchEvent(new Event("input", { bubbles: true }));
    }
  }

  function offerUndo(from, before, after) {
    const note = document.createElement("p");
    note.className = "message info";
    note.append(form.dataset.changed || "");
    const quote = document.createElement("q");
    quote.textContent = after;
    const button = document.createElement("button");
    button.type = "button";
    button.className = "button small";
    button.textContent = form.dataset.undo;
    button.addEventListener("click", () => {
      if (area.value.slice(from, from + after.length) === after) replaceRange(from, from + after.length, before);
      note.remove();
    });
    note.append(" ", quote, " ", button);
    for (const old of says.querySelectorAll(".message.info")) old.remove();
    says.append(note);
  }

  check.addEventListener("click", (event) => {
    const go = event.target.closest("[data-go]");
    if (go) { show(go.closest(".remark")); return; }
    const apply = event.target.closest("[data-apply]");
    if (!apply) return;
    event.preventDefault();
    const from = Number(apply.dataset.from);
    const to = Number(apply.dataset.to);
    const before = area.value.slice(from, to);
    replaceRange(from, to, apply.dataset.text);
    offerUndo(from, before, apply.dataset.text);
  });

  // ---- unsaved words stay in this browser until they are saved

  function keepDraft() {
    try {
      localStorage.setItem(draftKey, JSON.stringify({ text: area.value, seen: form.dataset.seen }));
    } catch (error) {
      // a full or forbidden store: the field itself still holds the words
    }
  }

  function findDraft() {
    let draft = null;
    try { draft = JSON.parse(localStorage.getItem(draftKey)); } catch (error) { draft = null; }
    if (!draft || typeof draft.text !== "string") return;
    if (draft.text === area.value || form.dataset.saved === "no") {
      if (draft.text === area.value) localStorage.removeItem(draftKey);
      return;
    }
    const note = document.getElementById("draft-found");
    note.hidden = false;
    document.getElementById("draft-use").addEventListener("click", () => {
      replaceRange(0, area.value.length, draft.text);
      note.hidden = true;
    });
    document.getElementById("draft-drop").addEventListener("click", () => {
      localStorage.removeItem(draftKey);
      note.hidden = true;
    });
  }

  // ---- start

  sheet.classList.add("alive");
  findDraft();
  draw();
  area.addEventListener("input", () => { follow(); keepDraft(); });
  window.addEventListener("resize", measure);
  if (document.fonts && document.fonts.ready) document.fonts.ready.then(measure);
  document.body.addEventListener("htmx:afterSwap", (event) => { if (event.target === check) draw(); });
  form.addEventListener("change", (event) => { if (event.target.id === "size-choice") drawCounts(); });
})();
