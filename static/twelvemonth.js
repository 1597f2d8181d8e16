// Nothing here is needed: every page works without it. It turns months by the arrow keys, and tells when a tick was not sent.
(() => {
  "use strict";

  function typing(element) {
    return /^(INPUT|SELECT|TEXTAREA)$/.test(element.tagName) || element.isContentEditable;
  }

  document.addEventListener("keydown", event => {
    if (event.altKey || event.ctrlKey || event.metaKey || event.shiftKey || typing(event.target)) return;
    var way = { ArrowLeft: "prev", ArrowRight: "next" }[event.key];
    var link = way && document.querySelector('link[rel="' + way + '"]');
    if (link) location.href = link.href;
  });

  // More closes when one goes elsewhere, as anything that opens does.
  function shut(event) {
    var open = document.querySelector(".more[open]");
    if (!open || (event.type === "click" && open.contains(event.target)) || (event.type === "keydown" && event.key !== "Escape")) return;
    open.open = false;
    if (event.type === "keydown") open.firstElementChild.focus();
  }
  document.addEventListener("click", shut);
  document.addEventListener("keydown", shut);

  function tell(sentence) {
    var status = document.getElementById("status");
    if (!status) return;
    var line = document.createElement("p");
    line.textContent = sentence;
    status.className = "status alert";
    status.replaceChildren(line);
  }

  // What a phone keeps is told by its box; the rest is told here.
  function unsent(event) {
    if (!event.detail.elt.op) tell("No answer came: there may be no signal. Tap again; what is sent twice counts once.");
  }
  document.addEventListener("htmx:sendError", unsent);
  document.addEventListener("htmx:timeout", unsent);
  document.addEventListener("htmx:responseError", event => {
    if (event.detail.xhr.getResponseHeader("HX-Reswap") !== "none") tell("That could not be done. Open the job to see why.");
  });
  // An answer that refuses still carries its sentence for the status line, out of band.
  document.addEventListener("htmx:beforeSwap", event => {
    if (event.detail.xhr.getResponseHeader("HX-Reswap") === "none") event.detail.shouldSwap = true;
  });
})();
