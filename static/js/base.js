// Gives htmx requests the CSRF token that stands in the page's head.
document.addEventListener("htmx:configRequest", (event) => {
  const token = document.querySelector('meta[name="csrf-token"]');
  if (token && event.detail.verb !== "get") {
    event.detail.headers["X-CSRFToken"] = token.content;
  }
});
