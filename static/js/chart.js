// Pointing at a line of the text, or coming to it with the keyboard, lights its round in the drawing, and the
// other way round. Without this script the numbers in the drawing and the labels of the lines are links.
for (const figure of document.querySelectorAll(".chart-figure")) {
  const drawing = figure.querySelector(".symbol-chart");
  const lines = [...figure.querySelectorAll("[data-courses]")];
  const courses = [...figure.querySelectorAll(".chart-course")];
  if (!drawing || !lines.length) continue;

  // A round that is wider than its place is shown from its middle, where it begins.
  const sheet = figure.querySelector(".chart-sheet");
  if (drawing.dataset.way === "round") sheet.scrollLeft = (sheet.scrollWidth - sheet.clientWidth) / 2;

  const light = (keys) => {
    const chosen = new Set(keys);
    for (const course of courses) course.classList.toggle("lit", chosen.has(course.dataset.course));
    for (const line of lines) {
      line.classList.toggle("lit", line.dataset.courses.split(" ").some((key) => chosen.has(key)));
    }
    drawing.classList.toggle("showing", courses.some((course) => course.classList.contains("lit")));
  };
  const keysAt = (target) => {
    const line = target.closest("[data-courses]");
    if (line) return line.dataset.courses.split(" ");
    const course = target.closest(".chart-course");
    return course ? [course.dataset.course] : null;
  };
  const begin = (event) => {
    const keys = keysAt(event.target);
    if (keys) light(keys);
  };
  figure.addEventListener("pointerover", begin);
  figure.addEventListener("focusin", begin);
  figure.addEventListener("pointerleave", () => light([]));
  figure.addEventListener("focusout", (event) => {
    if (!figure.contains(event.relatedTarget)) light([]);
  });
}
