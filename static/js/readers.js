// The reader's pages: what is typed is kept, in this browser while a remark is unsent, and in the
// workroom as a report grows. Everything here has a plain way without it.
(() => {
  "use strict";
  const room = `hookledger:reader:${location.pathname.split("/")[2]}`;

  // ---- remarks: unsent words stay in this browser until they are sent or left

  function fields(form) {
    return Array.from(form.querySelectorAll("textarea, select"));
  }

  function keyOf(form) {
    return `${room}:${form.dataset.keep}`;
  }

  function restore(form) {
    let kept = null;
    try { kept = JSON.parse(localStorage.getItem(keyOf(form))); } catch (error) { kept = null; }
    if (!kept) return;
    for (const field of fields(form)) {
      if (typeof kept[field.name] === "string" && (field.value === "" || field.tagName === "SELECT")) field.value = kept[field.name];
    }
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
  report.addEventListener("input", () => {
    clearTimeout(waiting);
    waiting = setTimeout(() => document.body.dispatchEvent(new Event("keep")), 1200);
  });
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "hidden" && waiting) document.body.dispatchEvent(new Event("keep"));
  });
})();
