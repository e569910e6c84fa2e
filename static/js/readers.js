// The reader's pages: what is typed is kept, in this browser while a remark is unsent, in the workroom
// as a report grows and in this browser where there is no net. Everything here has a plain way without it.
(() => {
  "use strict";
  const room = `hookledger:reader:${location.pathname.split("/")[2]}`;

  // ---- remarks: unsent words stay in this browser until they are sent or left

  function fields(form) {
    return Array.from(form.querySelectorAll("textarea, select, input:not([type=hidden])"));
  }

  function keyOf(form) {
    return `${room}:${form.dataset.keep}`;
  }

  // A remark's words go into empty fields alone; a report's are the last that this, its only, browser knows.
  function restore(form, over) {
    let kept = null;
    try { kept = JSON.parse(localStorage.getItem(keyOf(form))); } catch (error) { kept = null; }
    if (!kept) return false;
    for (const field of fields(form)) {
      const words = kept[field.name];
      if (typeof words === "string" && (over || field.value === "" || field.tagName === "SELECT")) field.value = words;
    }
    return true;
  }

  function keep(form) {
    const words = {};
    for (const field of fields(form)) words[field.name] = field.value;
    try { localStorage.setItem(keyOf(form), JSON.stringify(words)); } catch (error) { /* the field still holds them */ }
  }

  function drop(form) {
    try { localStorage.removeItem(keyOf(form)); } catch (error) { /* nothing was kept */ }
  }

  function start(root) {
    for (const form of root.querySelectorAll("form.remark-form")) {
      restore(form);
      const first = form.querySelector("textarea");
      if (first) first.focus();
    }
  }

  document.addEventListener("input", (event) => {
    const form = event.target.closest("form.remark-form");
    if (form) keep(form);
  });
  document.addEventListener("click", (event) => {
    const leave = event.target.closest("[data-drop]");
    if (leave) drop(leave.closest("form"));
  });
  document.addEventListener("htmx:afterRequest", (event) => {
    const sent = event.detail.requestConfig && event.detail.requestConfig.elt;
    if (sent && sent.matches("form.remark-form") && event.detail.successful) drop(sent);
  });
  document.addEventListener("htmx:afterSettle", (event) => start(event.target.parentElement || document));
  start(document);

  // ---- the report: sent to be kept a little while after each change

  const report = document.getElementById("report-form");
  const kept = document.getElementById("kept");
  if (!report || !kept) return;
  let waiting = 0;
  const send = () => { waiting = 0; document.body.dispatchEvent(new Event("keep")); };
  report.addEventListener("input", () => {
    keep(report);
    clearTimeout(waiting);
    waiting = setTimeout(send, 1200);
  });
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "hidden" && waiting) send();
  });
  kept.addEventListener("htmx:afterRequest", (event) => { if (event.detail.successful && !waiting) drop(report); });
  kept.addEventListener("htmx:sendError", () => { kept.textContent = report.dataset.here; });
  window.addEventListener("online", send);
  if (restore(report, true)) waiting = setTimeout(send, 1200);
})();
