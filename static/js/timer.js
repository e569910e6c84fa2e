// Lets the clock on the timer page run, and says when it is time to rest. The server keeps the time.
for (const timer of document.querySelectorAll("[data-timer]")) {
  const clock = timer.querySelector("[data-clock]");
  const rest = timer.querySelector("[data-break]");
  const atLoad = Number(timer.dataset.seconds);
  const sitting = Number(timer.dataset.sitting) * 60;
  const session = Number(timer.dataset.session) * 60;
  const loaded = Date.now();
  const two = (number) => String(number).padStart(2, "0");
  const show = () => {
    const since = timer.dataset.running === "yes" ? Math.floor((Date.now() - loaded) / 1000) : 0;
    const seconds = atLoad + since;
    clock.textContent = `${Math.floor(seconds / 3600)}:${two(Math.floor(seconds / 60) % 60)}:${two(seconds % 60)}`;
    if (sitting + since >= session) rest.hidden = false;
  };
  show();
  setInterval(show, 1000);
}
